"""Pictures of the two coils, of the case, and of the small amplifier."""
import math

from kit import (ball, box, camera, circle, crumbs, cylinder, fibre, glass, group, lamp, plate, ring,
                 rng, rounded, sheet, surface, surroundings, tube, wood, woven)
import parts as p


def flatwork(s):
    """Two fibre plates with eight rods between them, and a rule beside."""
    for z in (0.16, 1.74):
        plate([rounded(8.6, 2.5, 1.1)], 0.24, (0, 0, z), s.fibre, bevel=0.03, smooth=False)
    for y in (-2.85, -0.95, 0.95, 2.85):
        for d in (-0.38, 0.38):
            cylinder(0.25, 2.15, (y + d, 0, 1.0), s.steel, bevel=0.04)
    for x in (-3.9, 3.9):
        ring(0.16, 0.05, (x, -0.7, 0.3), s.brass)
        cylinder(0.14, 0.4, (x, 0.5, 1.75), s.brass, bevel=0.02)


def rule(s):
    face = surface("rule face", (0.55, 0.55, 0.52), 0.4, 0.3, 0.15, 1, 0.03, 20)
    g = group((0.4, -3.3, 0.05), (0, 0, -4))
    box((15, 1.8, 0.08), (0, 0, 0), face, bevel=0.015, parent=g)
    for k in range(0, 146):
        long = 0.7 if k % 10 == 0 else 0.5 if k % 5 == 0 else 0.3
        box((0.025, long, 0.01), (-7.25 + k * 0.1, 0.88 - long / 2, 0.042), s.black, bevel=0, parent=g)


def leads(s, colours):
    for colour, x in zip(colours, (-3.9, 3.9)):
        side = -1 if x < 0 else 1
        ball(0.2, (x, -0.75, 0.35), s.solder, (1, 1, 0.7), rough=0.06)
        tube([(x, -0.75, 0.38), (x + side * 0.8, -1.5, 0.55), (x + side * 2.2, -1.2, 0.2), (x + side * 4.5, 1.6, 0.14), (x + side * 9, 3.2, 0.14)],
             0.11, s.cloth[colour])


def coil_light(back=4800):
    crumbs(220, (22, 14), (0, 0, 0.02), p.Surfaces().dirt, 0.04)
    surroundings(0.34)
    lamp((-9, 13, 16), (0, 0, 0), 7, back, (1, 0.94, 0.84))
    lamp((14, -12, 14), (0, 0, 0), 9, 2600, (0.85, 0.92, 1))


def neck_coil():
    """Untouched: full to the edge, sealed in lumpy black wax."""
    s = p.Surfaces()
    sheet(80, 80, (0, 0, 0), woven("mat", (0.34, 0.31, 0.24), 3.2))
    flatwork(s)
    wax = surface("wax", (0.012, 0.011, 0.011), 0.3, 0, 0.4, 2, 0.8, 3.5, coat=0.2)
    plate([rounded(8.35, 2.3, 1.05)], 1.36, (0, 0, 0.95), wax, bevel=0.12, smooth=False)
    for _ in range(70):
        t = rng.uniform(-3.3, 3.3)
        side = rng.choice((-1, 1))
        ball(rng.uniform(0.1, 0.3), (t, side * 1.08, rng.uniform(0.45, 1.5)), wax, (1.6, 0.4, rng.uniform(0.6, 1.5)), rough=0.05)
    for _ in range(14):
        ball(rng.uniform(0.08, 0.22), (rng.uniform(-3.6, 3.6), rng.choice((-1, 1)) * rng.uniform(0.9, 1.2), 1.87), wax, (1.4, 1, 0.3), rough=0.08)
    leads(s, ("white", "black"))
    rule(s)
    coil_light()
    camera((1.0, -11.5, 8.6), (0.1, -0.4, 0.6), 43, (0, -1.2, 1), 0.35, roll=-1.2)
    return 0.75


def bridge_coil():
    """Turns taken off: the winding stands well inside the plates; half is under newer tape."""
    s = p.Surfaces()
    sheet(80, 80, (0, 0, 0), woven("mat", (0.34, 0.31, 0.24), 3.2))
    flatwork(s)
    threads = surface("threads", (0.50, 0.17, 0.055), 0.28, 0.75, 0.3, 4, 0.55, 16, stretch=(0.05, 0.05, 2.2))
    plate([rounded(7.45, 1.35, 0.66)], 1.36, (0, 0, 0.95), threads, bevel=0.1, smooth=False)
    for k in range(22):
        z = 0.4 + k * 0.052
        bulge = 0.03 * math.sin(k * 2.1)
        tube([(x, y, z) for x, y in rounded(7.47 + bulge, 1.37 + bulge, 0.67)], 0.016, s.copper, closed=True, sharp=True)
    tape = surface("tape", (0.80, 0.74, 0.42), 0.22, 0, 0.06, 1, 0.10, 3, coat=0.3)
    end = [(x, y) for x, y in rounded(7.66, 1.56, 0.77)]
    wrap = end[27:] + end[:9] + [(-0.7, 0.78), (-0.7, -0.78)]
    plate([wrap], 0.98, (0, 0, 1.02), tape, bevel=0.03, smooth=False)
    box((1.3, 0.03, 0.96), (-1.3, -0.93, 1.02), tape, (0, 4, 13), bevel=0.005)
    for k in range(3):
        tube([(-2.2 - 0.4 * k, -0.7, 0.5 + 0.2 * k), (-2.6 - 0.5 * k, -1.5 - 0.2 * k, 0.4), (-2.0 - 0.9 * k, -2.2, 0.1), (-1.2 - k, -1.9 + 0.3 * k, 0.08)], 0.014, s.copper)
    leads(s, ("white", "black"))
    rule(s)
    coil_light()
    camera((-1.0, -11.5, 7.4), (0.0, -0.4, 0.6), 43, (0, -1.0, 1), 0.35, roll=1.0)
    return 0.75


def case_dust():
    """A corner of the case: plush, dust, a coiled string, a plectrum, rusty screws."""
    s = p.Surfaces()
    plush = woven("plush", (0.20, 0.025, 0.035), 1.2)
    sheet(60, 60, (0, 0, 0), plush, folds=0.25, cells=90)
    box((60, 1.4, 14), (0, 11.5, 6), plush, bevel=0.5)
    box((1.4, 60, 14), (-14.5, 0, 6), plush, bevel=0.5)
    wound = surface("wound", (0.34, 0.30, 0.25), 0.4, 1, 0.4, 8, 0.3, 60)
    turns = [((3.4 + 0.25 * math.sin(a * 0.37)) * math.cos(a) + 3, (3.4 + 0.2 * math.cos(a * 0.29)) * math.sin(a) + 2.5, 0.45 + a * 0.012)
             for a in [k * 0.45 for k in range(64)]]
    tube(turns, 0.1, wound)
    tortoise = surface("tortoise", (0.22, 0.075, 0.015), 0.18, 0, 0.9, 1.2, 0.01, coat=0.5)
    plate([[(0, 1.6), (1.2, 1.3), (1.3, 0.5), (0.6, -0.7), (0, -1.3), (-0.6, -0.7), (-1.3, 0.5), (-1.2, 1.3)]], 0.09, (-4.5, -3.0, 0.38), tortoise, (4, 5, 25), bevel=0.03)
    for x, y, a in ((-8, 2, 30), (-6.4, 4.2, 100), (6.8, -5, -20)):
        g = group((x, y, 0.5), (90, 0, a))
        cylinder(0.16, 1.8, (0, 0, -0.9), s.rust, parent=g, top=0.04)
        p.screw(s, (0, 0, 0), g, 0.36, s.rust)
    fluff = surface("fluff", (0.30, 0.28, 0.26), 1)
    crumbs(1500, (32, 28), (0, 0, 0.25), fluff, 0.06)
    crumbs(500, (28, 7), (0, 8.5, 0.3), fluff, 0.1)
    for _ in range(70):
        fibre((rng.uniform(-13, 12), rng.uniform(-9, 10), rng.uniform(0.25, 0.45)), fluff, rng.uniform(1, 3.5), 0.012)
    surroundings(0.3)
    lamp((14, 16, 22), (0, 0, 0), 8, 7600, (1, 0.93, 0.82))
    lamp((-10, -22, 22), (0, 0, 0), 10, 2600, (0.85, 0.92, 1))
    camera((2, -20, 21), (-1.2, 0.6, 0.3), 38, (-1, -1, 0.4), 0.5, roll=2)
    return 0.6


def valve(s, at, height, radius, clear, hot):
    """A valve hanging from its socket."""
    anode = surface("anode", (0.26, 0.26, 0.27), 0.5, 0.2, 0.3, 2, 0.05)
    g = group(at, (180, 0, rng.uniform(0, 90)))
    cylinder(radius * 1.25, 0.9, (0, 0, 0.2), s.phenolic, bevel=0.1, parent=g)
    cylinder(radius * 0.62, height * 0.55, (0, 0, height * 0.45), anode, bevel=0.1, parent=g)
    for a in (0, 180):
        box((0.1, radius * 0.5, height * 0.6), (radius * 0.62 * math.cos(math.radians(a)), 0, height * 0.46), s.steel, parent=g)
    for z in (0.17, 0.73):
        cylinder(radius * 0.8, 0.08, (0, 0, height * z), s.white, parent=g)
    cylinder(0.16, height * 0.24, (0, 0, height * 0.78), hot, parent=g)
    cylinder(radius * 0.55, 0.25, (0, 0, height * 0.92), s.steel, bevel=0.1, parent=g)
    cylinder(radius, height * 0.86, (0, 0, height * 0.5), clear, bevel=radius * 0.3, parent=g)
    ball(radius * 0.96, (0, 0, height * 0.9), clear, (1, 1, 0.8), g)


def valve_amplifier():
    """The open back of a small combo: chassis above, three valves, one speaker."""
    s = p.Surfaces()
    sheet(400, 400, (0, 0, 0), wood("floor", (0.13, 0.075, 0.04), (0.28, 0.17, 0.09), "X", 0.12, 0.65))
    wall = surface("wall", (0.40, 0.38, 0.33), 0.9, 0, 0.15, 0.03, 0.05)
    box((400, 2, 240), (0, 60, 110), wall)
    cover = woven("covering", (0.17, 0.095, 0.05), 2.4, 0.7)
    raw = wood("raw", (0.25, 0.15, 0.07), (0.46, 0.31, 0.16), "X", 0.2, 0.8)
    box((48, 22, 1.8), (0, 0, 1.9), cover, bevel=0.5)
    box((48, 22, 1.8), (0, 0, 41.1), cover, bevel=0.5)
    for x in (-23.1, 23.1):
        box((1.8, 22, 41), (x, 0, 21.5), cover, bevel=0.5)
    plate([rounded(44.6, 38, 0.3), circle(10.3, (-3.5, -5))], 1.4, (0, 9, 21.5), raw, (90, 0, 0), bevel=0.05, smooth=False)
    box((44.4, 1.0, 5.5), (0, -10, 5.6), raw, bevel=0.1)
    for x in (-20, 0, 20):
        p.screw(s, (0, 0, 0), group((x, -10.55, 5.6), (90, 0, 0)), 0.45, s.rust)
    speaker(s)
    chassis = surface("chassis", (0.46, 0.45, 0.42), 0.38, 1, 0.12, 0.02, 0.03, 6)
    box((42, 14, 0.3), (0, -1, 33.2), chassis, bevel=0.05)
    box((42, 0.3, 6.6), (0, -8, 36.5), chassis, bevel=0.05)
    for x, r in ((-17, 0.75), (-12.5, 0.75), (12, 1.1), (17.5, 0.6)):
        cylinder(r, 1.0, (x, -8.5, 36.6), s.black, (90, 0, 0), bevel=0.1)
    clear, hot = glass("clear"), glass("hot wire", 3)
    valve(s, (-16.5, -2.5, 33.0), 6.0, 1.1, clear, hot)
    valve(s, (-9.5, -2.5, 33.0), 8.2, 1.6, clear, hot)
    valve(s, (-1.5, -2.5, 33.0), 8.6, 1.65, clear, hot)
    for x, w, h in ((15.5, 8.5, 7.5), (7.0, 5, 4.6)):
        for k in range(9):
            box((w, 0.6, h), (x, -4.2 + k * 0.62, 32.8 - h / 2), s.rust if k % 4 else s.steel, bevel=0.04)
        box((w * 0.62, 7.4, h * 0.7), (x, -1.7, 32.8 - h / 2), s.paper, bevel=0.5)
    cylinder(1.6, 7, (3.0, 1.5, 29.5), s.tin, bevel=0.3)
    for colour, shift in (("black", 0), ("yellow", 1.2)):
        tube([(7 + shift, -1, 29), (9 + shift, -3, 24), (6 + shift, -4, 19), (1.5, -3.5 - shift * 0.5, 14 + shift)], 0.2, s.cloth[colour])
    cord = [(19, -8, 34), (20, -11.5, 24), (19, -9, 9)] + [(13 + 5.5 * math.cos(a), -3 + 4.5 * math.sin(a), 3.4 + a * 0.1) for a in [k * 0.6 for k in range(28)]]
    tube(cord, 0.32, s.cloth["black"])
    crumbs(500, (44, 18), (0, 0, 2.85), s.dirt, 0.12)
    crumbs(300, (120, 60), (0, -20, 0.05), s.dirt, 0.1)
    surroundings(0.4)
    lamp((-14, -40, 14), (-8, 0, 29), 8, 5200, (1, 0.95, 0.88))
    lamp((-50, -70, 90), (0, 0, 20), 34, 88000, (1, 0.93, 0.83))
    lamp((70, -70, 40), (0, 0, 20), 34, 26000, (0.85, 0.92, 1))
    camera((9, -86, 34), (0, 0, 20.6), 46, (0, -6, 24), 2.0, roll=0.7)
    return 0.6


def speaker(s):
    """A ten-inch speaker seen from behind: frame legs, magnet, paper cone."""
    g = group((-3.5, 8.0, 16.5), (90, 0, 0))
    cone = surface("cone", (0.05, 0.045, 0.04), 0.9, 0, 0.3, 0.4, 0.3, 4)
    frame = surface("frame", (0.24, 0.25, 0.23), 0.45, 0.7, 0.3, 0.3, 0.1, 6)
    cylinder(10.2, 6.0, (0, 0, 3.2), cone, parent=g, top=3.2, bevel=0.02)
    ring(10.8, 0.55, (0, 0, 0.3), frame, parent=g)
    for k in range(6):
        a = math.pi / 3 * k + 0.3
        tube([(10.7 * math.cos(a), 10.7 * math.sin(a), 0.3), (9.4 * math.cos(a), 9.4 * math.sin(a), 4.2), (5.0 * math.cos(a), 5.0 * math.sin(a), 6.6)], 0.8, frame, parent=g)
    cylinder(5.6, 0.7, (0, 0, 6.7), frame, parent=g, bevel=0.2)
    cylinder(4.4, 2.6, (0, 0, 8.2), s.steel, parent=g, bevel=0.25)
    cylinder(3.4, 1.6, (0, 0, 10.1), frame, parent=g, bevel=0.4)
    box((3.0, 1.6, 0.3), (5.0, 3.4, 7.2), s.phenolic, parent=g)
