"""Pictures of the control cavity and of the parts in it."""
import math

from kit import (ball, bmesh, box, camera, circle, crumbs, cylinder, fibre, group, lamp, painted, place,
                 plate, ring, rng, rounded, sheet, solid, surface, surroundings, tube, wood, woven)
import parts as p


def cavity_scene():
    """The cavity open from the back. Returns the tags by name."""
    s = p.Surfaces()
    paint = painted("paint", (0.10, 0.25, 0.23), chips=0.60, along="X", dust=0.12)
    inside = wood("inside", (0.14, 0.075, 0.03), (0.33, 0.19, 0.085), "X", 0.7, 0.85, dust=0.35)
    outline = [(-8.9, 0.2), (-8.3, 3.6), (-5.2, 5.15), (0, 5.35), (5.2, 5.2), (8.6, 4.2), (9.5, 0.6),
               (8.5, -3.6), (5, -5.1), (0, -5.35), (-5.2, -5.1), (-8.2, -3.7)]
    lip = [(x * 1.09, y * 1.12) for x, y in outline]
    square = [(-30, -24), (30, -24), (30, 24), (-30, 24)]
    plate([square, lip], 0.35, (0, 0, 4.02), paint, bevel=0.06)
    plate([square, outline], 3.9, (0, 0, 1.9), inside, bevel=0.06)
    floor = surface("floor", (0.26, 0.25, 0.23), 0.5, 1, 0.6, 0.7, 0.1, 12, dust=0.55)
    box((24, 16, 0.2), (0, 0, -0.1), floor)
    for x, y in ((-9.15, -0.1), (-5.4, 5.45), (5.6, 5.5), (9.8, 0.5), (5.4, -5.45), (-5.6, -5.4)):
        cylinder(0.17, 0.06, (x, y, 3.84), s.fibre, bevel=0.01)
        ring(0.22, 0.03, (x, y, 3.86), s.rust)
    tags = {"rotary": p.rotary(s, (-5.0, 1.1, 0), 0)}
    tags["choke"] = p.choke(s, (0.2, 2.3, 0), 90)
    tags["volume"] = p.newer_pot(s, (4.3, 2.2, 0.2), 0)
    tags["tone"] = p.old_pot(s, (3.2, -2.2, 0), -90)
    tags["switch"] = p.slide_switch(s, (6.6, -2.5, 0), 90)
    tags["jack"] = p.jack(s, (-6.3, -3.0, 0), -100)
    tags["foil"] = p.foil_capacitor(s, (-1.9, -3.4, 0.8), 4)
    wiring(s, tags)
    crumbs(500, (16, 9), (0, 0, 0.02), s.dirt, 0.07)
    crumbs(160, (26, 20), (0, 0, 4.2), s.dirt, 0.035)
    grey = surface("fluff", (0.25, 0.23, 0.21), 1)
    for _ in range(26):
        fibre((rng.uniform(-8, 8), rng.uniform(-4, 4), rng.uniform(0.1, 0.4)), grey, rng.uniform(0.8, 2.4), 0.009)
    return s, tags


def wiring(s, tags):
    rot, vol, tone, sw = tags["rotary"], tags["volume"], tags["tone"], tags["switch"]
    tip, sleeve = tags["jack"]
    end_b, end_a = tags["choke"]           # b lies to the left, toward the switch
    low, high = tags["foil"]
    up = lambda t, dz=0.06: (t[0], t[1], t[2] + dz)
    # The two cut wires.
    x, y, z = up(end_b)
    p.cut_stub(s, "green", [(x, y, z), (x - 0.5, y + 0.05, z + 0.45), (x - 1.0, y + 0.3, z + 0.85), (x - 1.35, y + 0.75, z + 1.1)], 0.13, 0.6)
    x, y, z = up(rot[6])
    p.cut_stub(s, "black", [(x, y, z), (x - 0.3, y - 0.25, z + 0.45), (x - 0.5, y - 0.6, z + 0.8), (x - 0.75, y - 1.0, z + 0.95)], 0.13, 0.6)
    # Wires as they run.
    p.wire(s, "yellow", [up(end_a), (3.0, 3.3, 2.1), (3.2, 1.6, 1.8), (3.4, 0.7, 1.2), up(vol[0])])
    p.wire(s, "white", [up(vol[1]), (4.2, -0.1, 1.9), (1.9, -0.5, 2.0), (-1.2, -1.2, 1.7), (-4.4, -2.6, 1.8), up(tip)])
    p.wire(s, "white", [up(rot[0]), (-4.2, 4.0, 2.0), (-3.9, 5.0, 1.7), (-3.7, 6.8, 1.5)])
    p.wire(s, "red", [up(rot[8]), (-7.6, 2.6, 1.8), (-8.0, 0.2, 1.4), (-7.6, -3.2, 0.8), (-4.6, -4.6, 0.6), up(low)])
    p.wire(s, "black", [up(sleeve), (-5.5, -4.7, 1.4), (-1.8, -4.8, 2.0), (1.4, -3.9, 2.1), (3.1, -2.6, 1.15)])
    p.wire(s, "yellow", [up(rot[4]), (-3.3, -0.9, 1.9), (-0.6, -2.2, 1.9), (0.9, -1.6, 1.0), up(tone[2])])
    p.wire(s, "white", [up(sw[0]), (7.9, -1.0, 2.0), (7.3, 1.0, 1.8), (5.7, -0.3, 1.4), up(vol[2], 0.02)])
    p.wire(s, "black", [up(sw[3]), (5.7, -4.3, 1.9), (4.3, -3.7, 1.9), (3.45, -2.9, 1.15)])
    p.wire(s, "red", [up(sw[2]), (8.0, -3.4, 1.9), (8.3, -0.6, 1.6), (8.0, 2.6, 1.3), (7.4, 4.3, 1.5), (6.9, 6.8, 1.6)])
    tube([high, (0.9, -3.2, 0.6), up(tone[0])], 0.04, s.tin)
    ball(0.18, up(tone[0]), s.solder, rough=0.06)
    ends = p.foil_capacitor(s, (3.3, -4.0, 1.1), 6, 1.7, 0.36, s.tan)
    tube([ends[0], (1.2, -3.4, 0.9), up(tone[1])], 0.03, s.tin)
    ball(0.17, up(tone[1]), s.solder, rough=0.06)
    tube([ends[1], (5.0, -3.3, 1.3), (3.7, -2.3, 1.12)], 0.03, s.tin)
    p.disc_capacitor(s, (6.3, 0.55, 1.5), [up(vol[2]), (6.1, -1.6, 1.35)], 10, 65)
    for lug in (rot[2], vol[2]):
        ball(0.13, up(lug, 0.02), s.solder, (1, 1, 0.5), rough=0.08)


def control_cavity():
    cavity_scene()
    surroundings(0.30)
    lamp((-16, 20, 26), (0, 0, 0), 9, 9500, (1, 0.93, 0.82))
    lamp((24, -8, 30), (0, 0, 0), 16, 3200, (0.80, 0.90, 1))
    camera((0.5, -5.0, 26), (0.35, -0.05, 1), 43, (0, 0, 1.3), 0.5, roll=1.2)
    return 0.55


def green_stub():
    s, tags = cavity_scene()
    x, y, z = tags["choke"][0]
    surroundings(0.30)
    lamp((-12, 18, 24), (0, 2, 0), 7, 8500, (1, 0.93, 0.82))
    lamp((22, -10, 26), (0, 0, 0), 14, 3400, (0.80, 0.90, 1))
    camera((-0.4, -6.5, 15.5), (0.2, 2.0, 1.2), 51, (x - 0.6, y + 0.6, z + 0.6), 0.22, roll=-3)
    return 0.15


def volume_pot():
    """The newer volume pot lifted out beside the old tone pot, on the bench mat."""
    s = p.Surfaces()
    sheet(80, 80, (0, 0, 0), woven("mat", (0.30, 0.32, 0.30), 3.2))
    bright = surface("bright thread", (0.75, 0.75, 0.74), 0.2, 1, 0.06, 2, 0.01)
    at, turn = (-1.7, 0.3, 0.9), 148
    g = group(at, (180, 0, turn))
    p.newer_pot(s, (0, 0, 0), 0, g)
    cylinder(0.42, 0.75, (0, 0, -0.3), bright, bevel=0.03, parent=g)
    for k in range(6):
        ring(0.42, 0.045, (0, 0, -0.62 + 0.11 * k), bright, parent=g)
    knurl = [(math.cos(a) * (0.31 if k % 2 else 0.27), math.sin(a) * (0.31 if k % 2 else 0.27))
             for k, a in enumerate([2 * math.pi * i / 48 for i in range(48)])]
    plate([knurl], 1.5, (0, 0, -1.4), s.white, bevel=0.01, parent=g, smooth=False)
    box((0.05, 0.62, 0.06), (0, 0, -2.13), s.fibre, bevel=0.005, parent=g)
    p.old_pot(s, (3.0, 0.9, 0), 205)
    for colour, x in {"yellow": 0.5, "white": 0, "black": -0.5}.items():
        a = p.turned((x, 1.78, -0.4), at, turn)
        ball(0.17, a, s.solder, (1, 1, 0.8), rough=0.06)
        tube([a, (a[0] - 0.5, a[1] - 0.7, 0.32), (a[0] - 2.2, a[1] - 1.1 + x * 0.4, 0.12),
              (a[0] - 5, a[1] + x, 0.12), (a[0] - 11, a[1] + 2 + 3 * x, 0.12)], 0.11, s.cloth[colour])
    nut = [(0.72 * math.cos(math.pi / 3 * k), 0.72 * math.sin(math.pi / 3 * k)) for k in range(6)]
    plate([nut, circle(0.42)], 0.24, (1.1, -2.4, 0.13), bright, (0, 0, 14), bevel=0.04, smooth=False)
    plate([circle(0.75), circle(0.43)], 0.08, (-0.9, -3.0, 0.05), bright, bevel=0.02, smooth=False)
    crumbs(200, (16, 12), (0, 0, 0.02), s.dirt, 0.04)
    surroundings(0.32)
    lamp((-10, 12, 20), (0, 0, 0), 7, 4600, (1, 0.94, 0.84))
    lamp((16, -6, 18), (0, 0, 0), 10, 1500, (0.8, 0.9, 1))
    camera((0.2, -12.5, 9.0), (0.1, 0.1, 0.7), 50, (-1.6, -0.3, 1.6), 0.3, roll=1.5)
    return 0.5


def control_plate():
    """The control plate on edge to the eye, a straightedge laid across it: the middle lies low."""
    s = p.Surfaces()
    sheet(160, 160, (0, 0, 0), wood("bench", (0.20, 0.11, 0.05), (0.42, 0.26, 0.13), "X", 0.35, 0.6))
    chrome = surface("plate chrome", (0.66, 0.66, 0.64), 0.14, 1, 0.4, 1.2, 0.04, 20, dust=0.15)
    bm = bmesh.new()
    bmesh.ops.create_grid(bm, x_segments=96, y_segments=24, size=0.5)
    for v in bm.verts:
        x, y = v.co.x * 18, v.co.y * 6.5
        v.co.x, v.co.y = x, y
        v.co.z = 0.45 * (x / 9) ** 2 + 0.05 * math.sin(x * 0.9) + 0.02 * y * x / 9
    obj = solid(bm, 0)
    thick = obj.modifiers.new("thick", "SOLIDIFY")
    thick.thickness = 0.16
    thick.offset = 1
    obj.modifiers.move(1, 0)
    obj.modifiers["edge"].width = 0.03
    place(obj, (0, 0, 2.9), (0, 0, 0), chrome)
    box((6.5, 6.0, 2.86), (-0.3, 0.2, 1.43), s.cream, bevel=0.12)
    for x in (-3.0, 3.2):
        ring(0.85, 0.09, (x, -0.6, 3.16), s.rust)
    for x, y in ((-8.4, -2.7), (8.4, -2.7)):
        p.screw(s, (x, y, 3.46), radius=0.32)
    straightedge(s, 3.53)
    feeler(s)
    crumbs(200, (40, 20), (0, 0, 0.02), s.dirt, 0.05)
    wall = surface("wall", (0.62, 0.58, 0.50), 0.9, 0, 0.15, 0.3, 0.1)
    box((160, 1, 90), (0, 34, 40), wall)
    surroundings(0.45)
    lamp((6, 14, 26), (0, 30, 4), 12, 5200, (0.9, 0.95, 1))
    lamp((-16, -22, 22), (0, 0, 0), 12, 5200, (1, 0.92, 0.80))
    camera((1.2, -25, 3.75), (0.2, 0, 3.45), 41, (0, -3, 3.2), 0.5, roll=0.6)
    return 0.35


def straightedge(s, z):
    """A steel rule standing on its edge, with a plain scale on its face."""
    bright = surface("rule", (0.50, 0.50, 0.48), 0.5, 0.35, 0.15, 1, 0.05, 20, stretch=(0.05, 1, 1))
    box((26, 0.14, 3.0), (1.2, -2.2, z + 1.5), bright, bevel=0.015)
    for k in range(0, 251):
        long = 0.75 if k % 10 == 0 else 0.5 if k % 5 == 0 else 0.3
        box((0.022, 0.01, long), (-11.3 + k * 0.1, -2.273, z + 3.0 - 0.02 - long / 2), s.black, bevel=0)


def feeler(s):
    """A fan of feeler gauges left on the bench."""
    for k in range(5):
        plate([rounded(6, 1.1, 0.5, (2.6, 0))], 0.04, (-10.5, -7.6, 0.06 + 0.06 * k), s.steel, (0, 0, -14 + 9 * k), bevel=0.01, smooth=False)
    cylinder(0.36, 0.34, (-10.5, -7.6, 0.25), s.brass, bevel=0.05)
