"""Parts of the trade: pots, the rotary switch, the choke, capacitors, coils, tuners."""
import math

from kit import (ball, box, circle, crumbs, cylinder, group, plate, ring, rng, rounded,
                 surface, tube, woven)


class Surfaces:
    """The surfaces shared by all scenes; made anew for each scene."""

    def __init__(self):
        self.chrome = surface("chrome", (0.72, 0.72, 0.70), 0.12, 1, 0.25, 2, 0.03, 30, dust=0.25)
        self.nickel = surface("nickel", (0.55, 0.52, 0.46), 0.28, 1, 0.35, 3, 0.05, 30, dust=0.2)
        self.steel = surface("steel", (0.42, 0.41, 0.39), 0.35, 1, 0.5, 2, 0.10, 25, dust=0.15)
        self.tin = surface("tin", (0.46, 0.43, 0.37), 0.42, 1, 0.55, 2.2, 0.12, 20, dust=0.3)
        self.brass = surface("brass", (0.50, 0.36, 0.14), 0.35, 1, 0.5, 3, 0.1, 20)
        self.rust = surface("rust", (0.20, 0.075, 0.03), 0.9, 0, 0.6, 4, 0.5, 25)
        self.copper = surface("copper", (0.75, 0.30, 0.13), 0.3, 1, 0.3, 6, 0.05, 30)
        self.solder = surface("solder", (0.60, 0.60, 0.60), 0.22, 1, 0.3, 4, 0.25, 9)
        self.phenolic = surface("phenolic", (0.20, 0.085, 0.028), 0.42, 0, 0.35, 3, 0.05, 30, dust=0.12)
        self.fibre = surface("fibre", (0.022, 0.021, 0.020), 0.55, 0, 0.3, 5, 0.08, 40, dust=0.35)
        self.black = surface("black", (0.014, 0.014, 0.015), 0.32, 0, 0.3, 4, 0.04, 30, dust=0.2)
        self.white = surface("white", (0.80, 0.79, 0.74), 0.35, 0, 0.08, 3, 0.03, 30)
        self.cream = surface("cream", (0.62, 0.53, 0.34), 0.45, 0, 0.2, 3, 0.05, 30, dust=0.2)
        self.paper = surface("paper", (0.52, 0.39, 0.19), 0.75, 0, 0.3, 2, 0.1, 25)
        self.mustard = surface("mustard", (0.55, 0.33, 0.045), 0.3, 0, 0.25, 2, 0.06, 12, dust=0.2)
        self.tan = surface("tan", (0.50, 0.27, 0.09), 0.5, 0, 0.2, 3, 0.1, 14)
        self.dirt = surface("dirt", (0.17, 0.13, 0.09), 0.95, 0, 0.5, 6, 0)
        self.cloth = {
            name: woven("cloth " + name, colour, 11.0)
            for name, colour in {
                "green": (0.045, 0.26, 0.07), "black": (0.018, 0.017, 0.017),
                "white": (0.66, 0.59, 0.44), "red": (0.42, 0.035, 0.025),
                "yellow": (0.72, 0.46, 0.05)}.items()}


def hole_wall(radius, thick):
    return [circle(radius), circle(radius - thick)]


def wire(s, colour, points, radius=0.1, ends=0.35):
    """A cloth-covered wire; its ends are bared and frayed. A solder blob sits at each end."""
    tube(points, radius, s.cloth[colour])
    for tip in (points[0], points[-1]):
        ball(radius * 1.75, tip, s.solder, (1, 1, 0.8), rough=0.06)
        ball(radius * 1.2, (tip[0], tip[1], tip[2] + 0.02), s.cloth[colour], (1, 1, 0.6), rough=0.15)


def cut_stub(s, colour, points, radius=0.1, bare=0.45):
    """A wire cut through: cloth, then a bright fan of copper strands."""
    tube(points, radius, s.cloth[colour])
    ball(radius * 1.7, points[0], s.solder, (1, 1, 0.8), rough=0.06)
    (x0, y0, z0), (x1, y1, z1) = points[-2], points[-1]
    run = math.dist(points[-2], points[-1])
    d = [(b - a) / run for a, b in zip(points[-2], points[-1])]
    for _ in range(7):
        turn = [rng.uniform(-0.03, 0.03) for _ in range(3)]
        spread = [rng.uniform(-0.09, 0.09) for _ in range(3)]
        tube([(x1 + turn[0] - d[0] * 0.1, y1 + turn[1] - d[1] * 0.1, z1 + turn[2]),
              (x1 + d[0] * bare * 0.5 + turn[0] + spread[0] * 0.4, y1 + d[1] * bare * 0.5 + turn[1] + spread[1] * 0.4,
               z1 + d[2] * bare * 0.5 + turn[2]),
              (x1 + d[0] * bare + spread[0], y1 + d[1] * bare + spread[1], z1 + d[2] * bare + spread[2])],
             0.018, s.copper)
    for _ in range(12):
        a = rng.uniform(0, 6.3)
        tube([(x1 - d[0] * 0.05, y1 - d[1] * 0.05, z1),
              (x1 + d[0] * 0.16 + math.cos(a) * 0.12, y1 + d[1] * 0.16 + math.sin(a) * 0.12, z1 + rng.uniform(-0.1, 0.1))],
             0.009, s.cloth[colour])


def lug(s, at, angle, parent, length=0.7, width=0.24, mat=None):
    """A flat tag with an eye, pointing outward."""
    a = math.radians(angle)
    g = group((at[0], at[1], at[2]), (0, 0, angle), parent)
    plate([rounded(length, width, width * 0.45, (length / 2, 0)), circle(width * 0.2, (length * 0.78, 0), 12)],
          0.05, (0, 0, 0), mat or s.tin, bevel=0.012, parent=g, smooth=False)
    return at[0] + math.cos(a) * length * 0.78, at[1] + math.sin(a) * length * 0.78, at[2]


def old_pot(s, loc, turn=0, blob=True):
    """A large pot in a tarnished can, seen from behind. Returns the three lug places."""
    g = group(loc, (0, 0, turn))
    cylinder(1.2, 0.95, (0, 0, 0.55), s.tin, bevel=0.14, parent=g)
    cylinder(1.22, 0.08, (0, 0, 0.12), s.tin, bevel=0.03, parent=g)
    ring(0.62, 0.03, (0, 0, 1.02), s.tin, parent=g)
    plate([rounded(1.5, 0.95, 0.2)], 0.14, (0, -1.35, 0.2), s.phenolic, bevel=0.03, parent=g, smooth=False)
    tips = []
    for x in (-0.5, 0, 0.5):
        cylinder(0.12, 0.12, (x, -1.45, 0.3), s.brass, parent=g)
        tips.append(lug(s, (x, -1.5, 0.29), -90, g, 0.62))
    if blob:
        ball(0.34, (0.45, 0.35, 1.03), s.solder, (1.2, 0.9, 0.34), g, rough=0.05)
    for a in (40, 140, 220, 320):
        box((0.18, 0.22, 0.5), (1.17 * math.cos(math.radians(a)), 1.17 * math.sin(math.radians(a)), 0.2),
            s.tin, (0, 0, a), parent=g)
    return [turned(t, loc, turn) for t in tips]


def newer_pot(s, loc, turn=0, parent=None):
    """The pot of a later decade: small, bright, square back of blue plastic."""
    g = group(loc, (0, 0, turn), parent)
    bright = surface("bright", (0.75, 0.75, 0.74), 0.18, 1, 0.06, 2, 0.01)
    blue = surface("blue", (0.03, 0.12, 0.36), 0.33, 0, 0.08, 2, 0.03)
    board = surface("board", (0.33, 0.19, 0.075), 0.4, 0, 0.1, 3, 0.02)
    cylinder(0.86, 0.42, (0, 0, 0.28), bright, bevel=0.05, parent=g)
    box((1.5, 1.5, 0.34), (0, 0, 0.62), blue, bevel=0.14, parent=g)
    cylinder(0.3, 0.1, (0, 0, 0.82), s.white, bevel=0.02, parent=g)
    box((0.34, 0.07, 0.06), (0, 0, 0.87), s.black, (0, 0, 30), parent=g)
    plate([rounded(1.45, 1.1, 0.1)], 0.13, (0, -0.95, 0.34), board, bevel=0.015, parent=g, smooth=False)
    tips = []
    for x in (-0.5, 0, 0.5):
        cylinder(0.12, 0.1, (x, -1.25, 0.43), bright, bevel=0.02, parent=g)
        tips.append(lug(s, (x, -1.3, 0.42), -90, g, 0.6, 0.2, bright))
    for a in (45, 135, 225, 315):
        box((0.2, 0.2, 0.5), (0.8 * math.cos(math.radians(a)), 0.8 * math.sin(math.radians(a)), 0.4), bright,
            (0, 0, a), parent=g)
    return [turned(t, loc, turn) for t in tips]


def turned(point, loc, turn):
    a = math.radians(turn)
    x, y, z = point
    return (loc[0] + x * math.cos(a) - y * math.sin(a), loc[1] + x * math.sin(a) + y * math.cos(a), loc[2] + z)


def rotary(s, loc, turn=0):
    """A four-way, two-pole rotary seen from behind: ten lugs, counted clockwise from the notch."""
    g = group(loc, (0, 0, turn))
    cylinder(1.0, 0.7, (0, 0, 0.35), s.steel, bevel=0.06, parent=g)
    disc = circle(1.65, steps=60)
    disc = [(x, y) if abs(math.degrees(math.atan2(y, x)) - 90) > 7 else (x * 0.86, y * 0.86) for x, y in disc]
    plate([disc, circle(0.32)], 0.14, (0, 0, 1.0), s.phenolic, bevel=0.02, parent=g, smooth=False)
    cylinder(0.28, 0.7, (0, 0, 0.9), s.brass, bevel=0.03, parent=g)
    box((0.3, 0.06, 0.04), (0, 0, 1.26), s.black, (0, 0, 25), parent=g)
    plate(hole_wall(0.95, 0.28), 0.05, (0, 0, 1.1), s.nickel, bevel=0.012, parent=g, smooth=False)
    box((1.1, 0.22, 0.06), (0.35, 0.15, 1.13), s.nickel, (0, 0, 22), bevel=0.02, parent=g)
    for x in (-1.28, 1.28):
        cylinder(0.17, 1.3, (x * 0.95, 0, 0.62), s.brass, bevel=0.04, parent=g)
        box((0.24, 0.05, 0.04), (x * 0.95, 0, 1.27), s.black, (0, 0, 40), parent=g)
    tips = []
    for k in range(10):
        angle = 90 - 18 - 36 * k
        a = math.radians(angle)
        box((0.34, 0.26, 0.05), (1.3 * math.cos(a), 1.3 * math.sin(a), 1.1), s.nickel, (0, 0, angle), parent=g)
        cylinder(0.07, 0.06, (1.3 * math.cos(a), 1.3 * math.sin(a), 1.13), s.brass, parent=g, bevel=0.02)
        tips.append(lug(s, (1.35 * math.cos(a), 1.35 * math.sin(a), 1.1), angle, g, 0.85, 0.26, s.nickel))
    return [turned(t, loc, turn) for t in tips]


def choke(s, loc, turn=0):
    """A small iron-cored coil. Returns the tags of end a and end b."""
    g = group(loc, (0, 0, turn))
    for k in range(13):
        box((2.7, 0.07, 2.0), (0, -0.54 + k * 0.09, 1.0), s.rust if k % 3 else s.steel,
            (0, rng.uniform(-0.5, 0.5), 0), bevel=0.01, parent=g)
    coil = [rounded(1.75, 2.1, 0.45)]
    plate(coil, 1.2, (0, 0, 1.02), s.paper, bevel=0.1, parent=g, smooth=False)
    winding = surface("winding", (0.42, 0.16, 0.05), 0.3, 0.6, 0.2, 3, 0.5, 30, stretch=(0.2, 0.2, 3))
    plate([rounded(1.8, 2.15, 0.45)], 0.24, (0, 0, 1.44), winding, bevel=0.06, parent=g, smooth=False)
    box((1.2, 0.9, 0.1), (0, 0, 2.03), s.rust, bevel=0.02, parent=g)
    for y in (-1.05, 1.05):
        plate([rounded(1.9, 0.08, 0.03)], 1.45, (0, y * 0.96, 1.02), s.phenolic, bevel=0.01, parent=g, smooth=False)
    box((0.9, 2.3, 0.06), (0, 0, 1.72), s.phenolic, bevel=0.015, parent=g)
    tips = [lug(s, (0, 0.95, 1.78), 90, g, 0.62, 0.26, s.tin), lug(s, (0, -0.95, 1.78), -90, g, 0.62, 0.26, s.tin)]
    for x in (-1.75, 1.75):
        box((0.9, 0.95, 0.08), (x, 0, 0.05), s.steel, bevel=0.02, parent=g)
        screw(s, (x * 1.03, 0, 0.12), g)
    return [turned(t, loc, turn) for t in tips]


def screw(s, loc, parent=None, radius=0.3, mat=None, turn=None):
    """A slotted round-head screw."""
    head = mat or s.steel
    ball(radius, loc, head, (1, 1, 0.42), parent)
    box((radius * 1.7, radius * 0.2, radius * 0.4), (loc[0], loc[1], loc[2] + radius * 0.3), s.fibre,
        (0, 0, rng.uniform(0, 180) if turn is None else turn), bevel=0.005, parent=parent)


def foil_capacitor(s, loc, turn=0, length=3.2, radius=0.68, mat=None):
    """A rolled foil capacitor; returns the two lead ends."""
    g = group(loc, (0, 0, turn))
    cylinder(radius, length, (0, 0, 0), mat or s.mustard, (0, 90, 0), bevel=0.16, parent=g)
    for x in (-1, 1):
        cylinder(radius * 0.8, 0.06, (x * length / 2, 0, 0), s.cream, (0, 90, 0), bevel=0.02, parent=g)
    cylinder(radius * 1.004, 0.14, (-length * 0.36, 0, 0), s.black, (0, 90, 0), bevel=0.002, parent=g)
    tips = []
    for x in (-1, 1):
        tip = (x * (length / 2 + 0.7), 0.05 * x, -radius * 0.3)
        tube([(x * length / 2, 0, 0), (x * (length / 2 + 0.4), 0, 0), tip], 0.04, s.tin, parent=g)
        tips.append(turned(tip, loc, turn))
    return tips


def disc_capacitor(s, loc, tips, turn=0, lean=0):
    """A small ceramic disc on two leads that reach the given places."""
    g = group(loc, (lean, 0, turn))
    ball(0.48, (0, 0, 0), s.tan, (1, 0.3, 1), g)
    for x, tip in zip((-0.25, 0.25), tips):
        start = turned((x, 0.38 * math.sin(math.radians(lean)), -0.38 * math.cos(math.radians(lean))), loc, turn)
        mid = tuple((a * 0.6 + b * 0.4) for a, b in zip(start, tip))
        tube([start, (mid[0], mid[1], mid[2] - 0.05), tip], 0.035, s.tin)
        ball(0.15, tip, s.solder, (1, 1, 0.8), rough=0.06)


def slide_switch(s, loc, turn=0):
    """The switch worked by pulling the tone knob: a fibre board with six tags. Returns the tags."""
    g = group(loc, (0, 0, turn))
    box((1.7, 1.15, 0.75), (0, 0, 0.4), s.tin, bevel=0.06, parent=g)
    box((1.55, 1.0, 0.1), (0, 0, 0.82), s.phenolic, bevel=0.015, parent=g)
    tips = []
    for y in (0.3, -0.3):
        for x in (-0.5, 0, 0.5):
            box((0.2, 0.05, 0.5), (x, y, 1.05), s.tin, bevel=0.02, parent=g)
            ball(0.13, (x, y, 1.15), s.solder, parent=g, rough=0.06)
            tips.append(turned((x, y, 1.25), loc, turn))
    return tips


def jack(s, loc, turn=0):
    """An open-frame jack; returns the tags of tip and sleeve."""
    g = group(loc, (0, 0, turn))
    plate(hole_wall(0.85, 0.4), 0.1, (0, 0, 0.4), s.nickel, bevel=0.02, parent=g, smooth=False)
    cylinder(0.5, 0.7, (0, 0, 0.2), s.nickel, bevel=0.04, parent=g)
    plate([rounded(0.9, 1.6, 0.3)], 0.1, (0, 0.4, 0.62), s.phenolic, bevel=0.02, parent=g, smooth=False)
    tube([(0.2, 1.1, 0.7), (0.2, 0.4, 0.95), (0.18, -0.3, 1.5), (0.1, -0.5, 2.0), (0, -0.3, 1.9)], 0.08, s.nickel, parent=g)
    lug(s, (0.25, 1.0, 0.7), 80, g, 0.8, 0.28, s.nickel)
    lug(s, (-0.3, 1.0, 0.55), 105, g, 0.8, 0.28, s.nickel)
    return [turned((0.35, 1.62, 0.72), loc, turn), turned((-0.47, 1.6, 0.57), loc, turn)]


def tuner(s, loc, turn=0, button=None, parent=None):
    """A machine head seen from the front: bush, post, and a clover button out to the side."""
    g = group(loc, (0, 0, turn), parent)
    plate([circle(0.85), circle(0.45)], 0.16, (0, 0, 0.08), s.nickel, bevel=0.05, parent=g, smooth=False)
    cylinder(0.45, 1.9, (0, 0, 0.9), s.nickel, bevel=0.06, parent=g)
    cylinder(0.56, 0.2, (0, 0, 1.85), s.nickel, bevel=0.06, parent=g)
    box((0.14, 1.0, 0.3), (0, 0, 1.86), s.fibre, (0, 0, 30), bevel=0.02, parent=g)
    for k in range(4):
        ring(0.53 + 0.015 * k, 0.1, (0, 0, 0.55 + 0.2 * k), s.steel, (1.5, 1, 0), parent=g)
    cylinder(0.28, 2.6, (0, 2.4, -1.6), s.nickel, (90, 0, 0), parent=g)
    plate([[(1.0, 0.0), (1.25, 0.6), (0.9, 1.3), (0.35, 1.5), (0, 1.9), (-0.35, 1.5), (-0.9, 1.3), (-1.25, 0.6),
            (-1.0, 0), (-0.3, -0.4), (0.3, -0.4)]], 0.32, (0, 3.9, -1.6), button or s.nickel, (20, 0, 0), bevel=0.12, parent=g)


def dusty_bench(s, area, z=0.0, count=350):
    crumbs(count, area, (0, 0, z + 0.01), s.dirt, 0.05)
