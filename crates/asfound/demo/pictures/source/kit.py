"""Scene kit: surfaces, solids, light, camera, and the look of a phone camera.

One length unit is one centimetre. Z points up, the bench lies at z = 0.
"""
import math
import os
import random

import bpy   # must come before bmesh
import bmesh
import numpy as np
from mathutils import Vector
from PIL import Image, ImageFilter

rng = random.Random(1960)


def clear():
    """Start an empty scene."""
    bpy.ops.wm.read_factory_settings(use_empty=True)
    rng.seed(1960)


# ---------------------------------------------------------------- surfaces

class Nodes:
    """A short hand for building one surface."""

    def __init__(self, name):
        self.mat = bpy.data.materials.new(name)
        self.mat.use_nodes = True
        self.tree = self.mat.node_tree
        self.bsdf = next(n for n in self.tree.nodes if n.type == "BSDF_PRINCIPLED")
        self.coord = self.node("ShaderNodeTexCoord").outputs["Object"]

    def node(self, kind, **props):
        made = self.tree.nodes.new(kind)
        for key, value in props.items():
            setattr(made, key, value)
        return made

    def link(self, a, b):
        self.tree.links.new(a, b)

    def stretched(self, scale):
        mapping = self.node("ShaderNodeMapping")
        mapping.inputs["Scale"].default_value = scale
        self.link(self.coord, mapping.inputs["Vector"])
        return mapping.outputs["Vector"]

    def noise(self, scale, detail=4.0, vector=None, distortion=0.0):
        made = self.node("ShaderNodeTexNoise")
        made.inputs["Scale"].default_value = scale
        made.inputs["Detail"].default_value = detail
        made.inputs["Distortion"].default_value = distortion
        self.link(vector or self.coord, made.inputs["Vector"])
        return made.outputs["Fac"]

    def ramp(self, fac, stops):
        made = self.node("ShaderNodeValToRGB")
        elements = made.color_ramp.elements
        while len(elements) < len(stops):
            elements.new(0.5)
        for element, (at, colour) in zip(elements, stops):
            element.position = at
            element.color = (*colour, 1)
        self.link(fac, made.inputs["Fac"])
        return made.outputs["Color"]

    def mix(self, fac, a, b):
        made = self.node("ShaderNodeMixRGB")
        self.link(fac, made.inputs[0])
        for slot, value in ((1, a), (2, b)):
            if isinstance(value, tuple):
                made.inputs[slot].default_value = (*value, 1)
            else:
                self.link(value, made.inputs[slot])
        return made.outputs[0]

    def bump(self, height, strength, distance=0.02):
        made = self.node("ShaderNodeBump")
        made.inputs["Strength"].default_value = strength
        made.inputs["Distance"].default_value = distance
        self.link(height, made.inputs["Height"])
        old = self.bsdf.inputs["Normal"].links
        if old:
            self.link(old[0].from_socket, made.inputs["Normal"])
        self.link(made.outputs["Normal"], self.bsdf.inputs["Normal"])

    def dust(self, colour, amount):
        """Lay dust on what faces up."""
        normal = self.node("ShaderNodeNewGeometry").outputs["Normal"]
        split = self.node("ShaderNodeSeparateXYZ")
        self.link(normal, split.inputs[0])
        facing = self.ramp(split.outputs["Z"], [(0.3, (0, 0, 0)), (1.0, (1, 1, 1))])
        patch = self.ramp(self.noise(1.7, 8), [(0.38, (0, 0, 0)), (0.75, (amount,) * 3)])
        both = self.node("ShaderNodeMixRGB", blend_type="MULTIPLY")
        both.inputs[0].default_value = 1
        self.link(facing, both.inputs[1])
        self.link(patch, both.inputs[2])
        return self.mix(both.outputs[0], colour, (0.40, 0.37, 0.33))


def surface(name, colour, rough=0.5, metal=0.0, vary=0.35, scale=1.5, bump=0.15,
            bump_scale=18.0, dust=0.0, coat=0.0, stretch=(1, 1, 1)):
    """A plain surface with stains, uneven gloss, small bumps and dust."""
    n = Nodes(name)
    vector = n.stretched(stretch)
    dark = tuple(c * (1 - vary) for c in colour)
    light = tuple(min(1, c * (1 + vary * 0.6)) for c in colour)
    out = n.ramp(n.noise(scale, 8, vector), [(0.3, dark), (0.7, light)])
    if dust:
        out = n.dust(out, dust)
    n.link(out, n.bsdf.inputs["Base Color"])
    gloss = n.ramp(n.noise(scale * 3, 8, vector),
                   [(0.3, (max(0.03, rough * 0.7),) * 3), (0.75, (min(1, rough * 1.5),) * 3)])
    n.link(gloss, n.bsdf.inputs["Roughness"])
    n.bsdf.inputs["Metallic"].default_value = metal
    n.bsdf.inputs["Coat Weight"].default_value = coat
    n.bsdf.inputs["Coat Roughness"].default_value = 0.12
    if bump:
        n.bump(n.noise(bump_scale, 6, vector), bump)
    return n.mat


def wood(name, dark, light, along="X", scale=0.9, rough=0.45, coat=0.0, dust=0.0):
    """Grain that runs along one axis."""
    n = Nodes(name)
    stretch = {"X": (0.07, 1, 1), "Y": (1, 0.07, 1), "Z": (1, 1, 0.07)}[along]
    vector = n.stretched(stretch)
    grain = n.noise(scale * 3, 10, vector, 0.8)
    mid = tuple((a + b) / 2 for a, b in zip(dark, light))
    out = n.ramp(grain, [(0.30, dark), (0.48, mid), (0.55, light), (0.7, dark)])
    pores = n.noise(scale * 40, 3, vector)
    shade = n.ramp(pores, [(0.34, tuple(c * 0.5 for c in dark)), (0.46, (1, 1, 1))])
    both = n.node("ShaderNodeMixRGB", blend_type="MULTIPLY")
    both.inputs[0].default_value = 0.75
    n.link(out, both.inputs[1])
    n.link(shade, both.inputs[2])
    out = both.outputs[0]
    if dust:
        out = n.dust(out, dust)
    n.link(out, n.bsdf.inputs["Base Color"])
    n.bsdf.inputs["Roughness"].default_value = rough
    n.bsdf.inputs["Coat Weight"].default_value = coat
    n.bump(pores, 0.12)
    return n.mat


def painted(name, colour, under=(0.36, 0.20, 0.09), chips=0.64, chip_scale=0.35, along="Y",
            dust=0.2, rough=0.22):
    """Old lacquer: faded, checked in fine lines, chipped through to the wood."""
    n = Nodes(name)
    dark = tuple(c * 0.72 for c in colour)
    paint = n.ramp(n.noise(0.12, 6), [(0.35, dark), (0.65, colour)])
    checks = n.node("ShaderNodeTexVoronoi", feature="DISTANCE_TO_EDGE")
    checks.inputs["Scale"].default_value = 0.22
    n.link(n.stretched((2.6, 1, 1) if along == "Y" else (1, 2.6, 1)), checks.inputs["Vector"])
    line = n.ramp(checks.outputs["Distance"], [(0.0, (1, 1, 1)), (0.012, (0, 0, 0))])
    faint = n.node("ShaderNodeMath", operation="MULTIPLY")
    faint.inputs[1].default_value = 0.35
    n.link(line, faint.inputs[0])
    paint = n.mix(faint.outputs[0], paint, tuple(c * 0.3 for c in colour))
    worn = n.ramp(n.noise(chip_scale, 12, None, 0.3), [(chips, (0, 0, 0)), (chips + 0.015, (1, 1, 1))])
    grain = n.noise(6, 6, n.stretched((1, 0.08, 1) if along == "Y" else (0.08, 1, 1)))
    bare = n.ramp(grain, [(0.35, tuple(c * 0.5 for c in under)), (0.65, under)])
    out = n.mix(worn, paint, bare)
    if dust:
        out = n.dust(out, dust)
    n.link(out, n.bsdf.inputs["Base Color"])
    n.link(n.ramp(worn, [(0, (rough,) * 3), (1, (0.8,) * 3)]), n.bsdf.inputs["Roughness"])
    n.bsdf.inputs["Coat Weight"].default_value = 0.3
    n.bump(worn, -0.4, 0.03)
    return n.mat


def woven(name, colour, pitch=9.0, rough=0.95, stripe=None):
    """Cloth: two crossed sets of threads; an optional wide stripe."""
    n = Nodes(name)
    fac = []
    for axis in ("X", "Y"):
        wave = n.node("ShaderNodeTexWave", wave_type="BANDS", bands_direction=axis)
        wave.inputs["Scale"].default_value = pitch
        wave.inputs["Distortion"].default_value = 1.2
        wave.inputs["Detail Scale"].default_value = 3
        n.link(n.coord, wave.inputs["Vector"])
        fac.append(wave.outputs["Fac"])
    cross = n.node("ShaderNodeMath", operation="MULTIPLY")
    n.link(fac[0], cross.inputs[0])
    n.link(fac[1], cross.inputs[1])
    out = n.ramp(n.noise(0.8, 9), [(0.3, tuple(c * 0.65 for c in colour)), (0.7, colour)])
    if stripe:
        for axis in ("X", "Y"):
            band = n.node("ShaderNodeTexWave", wave_type="BANDS", bands_direction=axis)
            band.inputs["Scale"].default_value = 0.016
            n.link(n.coord, band.inputs["Vector"])
            edge = n.ramp(band.outputs["Fac"], [(0.80, (0, 0, 0)), (0.82, (0.7, 0.7, 0.7))])
            out = n.mix(edge, out, stripe)
    shade = n.mix(cross.outputs[0], tuple(c * 0.5 for c in colour), out)
    n.link(shade, n.bsdf.inputs["Base Color"])
    n.bsdf.inputs["Roughness"].default_value = rough
    n.bsdf.inputs["Sheen Weight"].default_value = 0.3
    n.bump(cross.outputs[0], 0.5, 0.05)
    n.bump(n.noise(30, 3), 0.3, 0.05)
    return n.mat


def glass(name, glow=0.0):
    """Thin clear glass, or a hot wire when it glows."""
    n = Nodes(name)
    n.bsdf.inputs["Transmission Weight"].default_value = 1
    n.bsdf.inputs["Roughness"].default_value = 0.02
    n.bsdf.inputs["IOR"].default_value = 1.12
    n.bsdf.inputs["Base Color"].default_value = (0.93, 0.95, 0.95, 1)
    if glow:
        n.bsdf.inputs["Transmission Weight"].default_value = 0
        n.bsdf.inputs["Emission Color"].default_value = (1, 0.33, 0.06, 1)
        n.bsdf.inputs["Emission Strength"].default_value = glow
    return n.mat


# ---------------------------------------------------------------- solids

def place(obj, loc=(0, 0, 0), rot=(0, 0, 0), mat=None, parent=None):
    bpy.context.scene.collection.objects.link(obj)
    obj.location = loc
    obj.rotation_euler = [math.radians(a) for a in rot]
    if mat:
        obj.data.materials.append(mat)
    obj.parent = parent
    return obj


def group(loc=(0, 0, 0), rot=(0, 0, 0), parent=None):
    """A handle by which several solids are moved together."""
    return place(bpy.data.objects.new("group", None), loc, rot, None, parent)


def solid(bm, bevel, smooth=True, segments=3):
    mesh = bpy.data.meshes.new("solid")
    bm.to_mesh(mesh)
    bm.free()
    obj = bpy.data.objects.new("solid", mesh)
    if smooth:
        for poly in mesh.polygons:
            poly.use_smooth = True
        edge = obj.modifiers.new("edge", "BEVEL")
        edge.width = bevel
        edge.segments = segments
        edge.limit_method = "ANGLE"
        edge.harden_normals = True
    return obj


def box(size, loc, mat, rot=(0, 0, 0), bevel=0.03, parent=None):
    bm = bmesh.new()
    bmesh.ops.create_cube(bm, size=1)
    bmesh.ops.scale(bm, vec=size, verts=bm.verts)
    return place(solid(bm, bevel), loc, rot, mat, parent)


def cylinder(radius, height, loc, mat, rot=(0, 0, 0), bevel=0.03, parent=None, top=None, sides=48):
    bm = bmesh.new()
    bmesh.ops.create_cone(bm, cap_ends=True, segments=sides, radius1=radius,
                          radius2=radius if top is None else top, depth=height)
    return place(solid(bm, bevel), loc, rot, mat, parent)


def ball(radius, loc, mat, squash=(1, 1, 1), parent=None, rot=(0, 0, 0), rough=0.0):
    bm = bmesh.new()
    bmesh.ops.create_icosphere(bm, subdivisions=3, radius=radius)
    for vert in bm.verts:
        vert.co *= 1 + rng.uniform(-rough, rough)
    bmesh.ops.scale(bm, vec=squash, verts=bm.verts)
    obj = solid(bm, 0)
    obj.modifiers.clear()
    return place(obj, loc, rot, mat, parent)


def ring(radius, thick, loc, mat, rot=(0, 0, 0), parent=None):
    points = [(radius * math.cos(a), radius * math.sin(a), 0)
              for a in np.linspace(0, 2 * math.pi, 24, endpoint=False)]
    return tube(points, thick, mat, closed=True, loc=loc, rot=rot, parent=parent)


def tube(points, radius, mat, closed=False, loc=(0, 0, 0), rot=(0, 0, 0), parent=None, sharp=False):
    """A round bar or wire through the points, smooth unless sharp."""
    data = bpy.data.curves.new("tube", "CURVE")
    data.dimensions = "3D"
    data.bevel_depth = radius
    data.bevel_resolution = 4
    data.use_fill_caps = True
    data.resolution_u = 10
    if sharp:
        spline = data.splines.new("POLY")
        spline.points.add(len(points) - 1)
        for point, at in zip(spline.points, points):
            point.co = (*at, 1)
    else:
        spline = data.splines.new("BEZIER")
        spline.bezier_points.add(len(points) - 1)
        for point, at in zip(spline.bezier_points, points):
            point.co = at
            point.handle_left_type = point.handle_right_type = "AUTO"
    spline.use_cyclic_u = closed
    return place(bpy.data.objects.new("tube", data), loc, rot, mat, parent)


def plate(outlines, height, loc, mat, rot=(0, 0, 0), bevel=0.05, parent=None, smooth=True):
    """A flat piece cut to an outline; further outlines are holes."""
    data = bpy.data.curves.new("plate", "CURVE")
    data.dimensions = "2D"
    data.fill_mode = "BOTH"
    data.extrude = max(0.001, height / 2 - bevel)
    data.bevel_depth = bevel
    data.bevel_resolution = 3
    data.offset = -bevel
    data.resolution_u = 16
    for outline in outlines:
        spline = data.splines.new("BEZIER" if smooth else "POLY")
        if smooth:
            spline.bezier_points.add(len(outline) - 1)
            for point, at in zip(spline.bezier_points, outline):
                point.co = (*at, 0)
                point.handle_left_type = point.handle_right_type = "AUTO"
        else:
            spline.points.add(len(outline) - 1)
            for point, at in zip(spline.points, outline):
                point.co = (*at, 0, 1)
        spline.use_cyclic_u = True
    return place(bpy.data.objects.new("plate", data), loc, rot, mat, parent)


def rounded(width, depth, radius, at=(0, 0), steps=8):
    """The outline of a rectangle with round corners."""
    out = []
    for k, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        for step in range(steps + 1):
            a = math.pi / 2 * (k + step / steps)
            out.append((at[0] + sx * (width / 2 - radius) + radius * math.cos(a),
                        at[1] + sy * (depth / 2 - radius) + radius * math.sin(a)))
    return out


def circle(radius, at=(0, 0), steps=28):
    return [(at[0] + radius * math.cos(a), at[1] + radius * math.sin(a))
            for a in np.linspace(0, 2 * math.pi, steps, endpoint=False)]


def sheet(width, depth, loc, mat, folds=0.0, cells=120, rot=(0, 0, 0)):
    """A cloth or bench top, with folds."""
    bm = bmesh.new()
    bmesh.ops.create_grid(bm, x_segments=cells if folds else 1, y_segments=cells if folds else 1, size=0.5)
    for vert in bm.verts:
        vert.co.x *= width
        vert.co.y *= depth
        if folds:
            x, y = vert.co.x / width * 10, vert.co.y / depth * 10
            vert.co.z = folds * (math.sin(x * 1.1 + 1.3 * math.sin(y * 0.7)) * 0.5
                                 + math.sin(y * 1.7 + x * 0.8) * 0.35 + math.sin(x * 3.1 - y * 2.3) * 0.15)
    obj = solid(bm, 0)
    obj.modifiers.clear()
    return place(obj, loc, rot, mat)


def crumbs(count, area, loc, mat, size=0.04, parent=None):
    """Dust, filings and wood crumbs strewn over an area."""
    bm = bmesh.new()
    for _ in range(count):
        made = bmesh.ops.create_icosphere(bm, subdivisions=1, radius=size * rng.uniform(0.2, 1) ** 2)
        at = Vector((rng.uniform(-0.5, 0.5) * area[0], rng.uniform(-0.5, 0.5) * area[1], 0))
        for vert in made["verts"]:
            vert.co = vert.co * rng.uniform(0.6, 1.4) + at
    obj = solid(bm, 0)
    obj.modifiers.clear()
    return place(obj, loc, (0, 0, 0), mat, parent)


def fibre(loc, mat, length=1.2, radius=0.008):
    """A hair or thread of fluff."""
    points, at = [], Vector(loc)
    turn = rng.uniform(0, 6.3)
    for _ in range(6):
        points.append(tuple(at))
        turn += rng.uniform(-1.2, 1.2)
        at = at + Vector((math.cos(turn), math.sin(turn), rng.uniform(-0.05, 0.08))) * (length / 5)
    tube(points, radius, mat)


# ---------------------------------------------------------------- light and camera

def lamp(loc, aim, size, power, colour=(1, 1, 1)):
    data = bpy.data.lights.new("lamp", "AREA")
    data.size = size
    data.energy = power
    data.color = colour
    obj = place(bpy.data.objects.new("lamp", data), loc)
    obj.rotation_euler = (Vector(aim) - Vector(loc)).to_track_quat("-Z", "Y").to_euler()


def surroundings(strength=0.35, colour=(0.75, 0.85, 1.0)):
    """A dim room: grey-blue above, warm below, so that metal has something to show."""
    world = bpy.data.worlds.new("room")
    bpy.context.scene.world = world
    world.use_nodes = True
    tree = world.node_tree
    back = next(n for n in tree.nodes if n.type == "BACKGROUND")
    coord = tree.nodes.new("ShaderNodeTexCoord")
    split = tree.nodes.new("ShaderNodeSeparateXYZ")
    ramp = tree.nodes.new("ShaderNodeValToRGB")
    tree.links.new(coord.outputs["Generated"], split.inputs[0])
    tree.links.new(split.outputs["Z"], ramp.inputs[0])
    tree.links.new(ramp.outputs[0], back.inputs[0])
    ramp.color_ramp.elements[0].color = (0.10, 0.075, 0.05, 1)
    ramp.color_ramp.elements[1].color = (*colour, 1)
    back.inputs[1].default_value = strength


def camera(loc, aim, lens=35, focus=None, stop=0.0, roll=0.0):
    data = bpy.data.cameras.new("camera")
    data.lens = lens
    data.clip_end = 2000
    obj = place(bpy.data.objects.new("camera", data), loc)
    look = (Vector(aim) - Vector(loc)).to_track_quat("-Z", "Y")
    obj.rotation_euler = look.to_euler()
    obj.rotation_euler.rotate_axis("Z", math.radians(roll))
    if stop:
        data.dof.use_dof = True
        data.dof.focus_distance = (Vector(focus or aim) - Vector(loc)).length
        data.dof.aperture_fstop = stop
    bpy.context.scene.camera = obj


def take(path, size, samples, exposure=0.0):
    """Render the scene to a file."""
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    cycles = scene.cycles
    cycles.samples = samples
    cycles.use_adaptive_sampling = True
    cycles.adaptive_threshold = 0.06
    cycles.max_bounces = 6
    cycles.diffuse_bounces = 2
    cycles.glossy_bounces = 3
    cycles.transmission_bounces = 6
    cycles.caustics_reflective = cycles.caustics_refractive = False
    cycles.use_denoising = True
    cycles.denoiser = "OPENIMAGEDENOISE"
    cycles.sample_clamp_indirect = 4
    scene.view_settings.view_transform = "AgX"
    scene.view_settings.look = "AgX - Medium High Contrast"
    scene.view_settings.exposure = exposure
    scene.render.resolution_x, scene.render.resolution_y = size
    scene.render.filepath = os.path.abspath(path)
    bpy.ops.render.render(write_still=True)


def phone_look(source, size, warmth=0.03, seed=1):
    """Sharpening, grain, corner shade and a colour cast, as a phone leaves them."""
    image = Image.open(source).convert("RGB").resize(size, Image.LANCZOS)
    image = image.filter(ImageFilter.UnsharpMask(2.0, 70, 2))
    a = np.asarray(image).astype(np.float32) / 255
    height, width = a.shape[:2]
    y, x = np.mgrid[0:height, 0:width]
    away = ((x / width - 0.5) ** 2 + (y / height - 0.5) ** 2) * 2
    a *= (1 - 0.22 * away ** 1.3)[..., None]
    a *= np.array([1 + warmth, 1.0, 1 - warmth])
    noise = np.random.default_rng(seed)
    fine = noise.normal(0, 1, (height, width, 1))
    coarse = noise.normal(0, 1, (height // 2, width // 2, 3)).repeat(2, 0).repeat(2, 1)
    a += (0.010 * fine + 0.007 * coarse) * (1.2 - a)
    return Image.fromarray((np.clip(a, 0, 1) * 255 + 0.5).astype(np.uint8))
