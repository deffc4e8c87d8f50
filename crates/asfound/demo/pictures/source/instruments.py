"""Pictures of the bass and of the lap steel."""
import math

from kit import (ball, box, camera, circle, crumbs, cylinder, fibre, group, lamp, painted, plate, ring,
                 rng, rounded, sheet, surface, surroundings, tube, wood, woven)
import parts as p

NUT, SADDLE, SCALE = 31.0, -45.0, 76.0
BODY = [(-57, 0), (-55, 9), (-49, 15.5), (-41, 15.8), (-34, 12.4), (-27, 12.8), (-18, 17), (-9, 18.2),
        (-5.5, 15.3), (-9, 10.3), (-14, 6), (-15, 2.9), (-15, -2.9), (-17, -6), (-14.5, -10.5), (-12, -13.5),
        (-14.5, -16), (-22, -16.5), (-30, -13.2), (-37, -13), (-45, -16), (-52, -15), (-56, -8)]
GUARD = [(-15.4, 3.1), (-14.6, 6.0), (-10.2, 10.6), (-8.2, 14), (-11, 15.8), (-18, 14.4), (-26, 9.8), (-33, 8.6),
         (-39.5, 9.3), (-41, 5), (-40.6, 0), (-40, -5.2), (-36, -6.2), (-30, -8), (-22, -12.5), (-17.4, -11.5),
         (-18.6, -6), (-15.4, -3.1)]
HEAD = [(31, 2.1), (34, 2.9), (36, 4.6), (45, 5.0), (52, 5.2), (54.5, 3.0), (53, 0.2), (49, -1.7), (44, -2.6),
        (38, -2.7), (34, -2.3), (31, -2.1)]
STRINGS = (-2.85, -0.95, 0.95, 2.85)


def across(x):
    """Half the width of the neck at a place along it."""
    return 2.1 + (NUT - x) * 0.9 / 46


def bass(s, parent):
    """The whole bass, face up, its back at z = 0."""
    paint = painted("sea green", (0.13, 0.33, 0.30), chips=0.64, chip_scale=0.16, along="X", dust=0.08)
    maple = wood("maple", (0.42, 0.24, 0.09), (0.60, 0.38, 0.16), "X", 0.4, 0.3, 0.4)
    dark = wood("rosewood", (0.035, 0.016, 0.009), (0.10, 0.045, 0.022), "X", 0.8, 0.5)
    plate([BODY], 4.2, (0, 0, 2.1), paint, bevel=0.5, parent=parent)
    end = across(-14.5)
    plate([[(-24, end), (NUT, 2.1), (NUT, -2.1), (-24, -end)]], 2.0, (0, 0, 3.7), maple, bevel=0.3, parent=parent, smooth=False)
    tube([(-12, 0, 2.4), (8, 0, 2.6), (26, 0, 2.5), (31, 0, 2.3)], 1.75, maple, parent=parent)
    far = across(-21) + 0.02
    plate([[(-21, far), (NUT, 2.12), (NUT, -2.12), (-21, -far)]], 0.6, (0, 0, 4.95), dark, bevel=0.08, parent=parent, smooth=False)
    plate([HEAD], 1.5, (0, 0, 3.55), maple, bevel=0.12, parent=parent)
    frets_and_dots(s, parent)
    box((0.5, 4.3, 0.8), (NUT + 0.2, 0, 5.1), s.cream, bevel=0.06, parent=parent)
    furniture(s, parent)
    strings(s, parent)
    back_fittings(s, parent)


def frets_and_dots(s, parent):
    pearl = surface("dot", (0.60, 0.57, 0.48), 0.25, 0, 0.1)
    before = NUT
    for n in range(1, 21):
        x = NUT - SCALE * (1 - 2 ** (-n / 12))
        tube([(x, -across(x), 5.24), (x, across(x), 5.24)], 0.09, s.nickel, parent=parent, sharp=True)
        mid = (x + before) / 2
        for y in ((-1.1, 1.1) if n == 12 else (0,) if n in (3, 5, 7, 9, 15, 17, 19) else ()):
            cylinder(0.33, 0.04, (mid, y, 5.24), pearl, bevel=0.005, parent=parent)
        before = x


def furniture(s, parent):
    guard = surface("guard", (0.60, 0.55, 0.42), 0.25, 0, 0.12, 0.3, 0.02, coat=0.3, dust=0.25)
    edge = surface("guard edge", (0.03, 0.03, 0.03), 0.4)
    plate([GUARD], 0.12, (0, 0, 4.27), edge, bevel=0.03, parent=parent)
    plate([GUARD], 0.12, (0, 0, 4.36), guard, bevel=0.05, parent=parent)
    for x, y in ((-12, 13.5), (-22, 11), (-36, 7.6), (-39.4, -3.8), (-28.5, -7.3), (-19.6, -10.6), (-17, 4.5)):
        p.screw(s, (x, y, 4.42), parent, 0.32, s.nickel)
    for x in (-22.5, -35.5):
        plate([rounded(3.0, 9.0, 1.4)], 1.0, (x, 0, 4.7), s.black, bevel=0.22, parent=parent, smooth=False)
        for y in STRINGS:
            for dy in (-0.35, 0.35):
                cylinder(0.24, 0.1, (x, y + dy, 5.22), s.steel, bevel=0.03, parent=parent)
        for y in (-5.2, 5.2):
            p.screw(s, (x, y, 4.45), parent, 0.3, s.nickel)
    # The control plate and its knobs.
    g = group((-45, -9.6, 4.25), (0, 0, 9), parent)
    plate([rounded(15.5, 4.8, 2.2)], 0.16, (0, 0, 0.08), s.chrome, bevel=0.04, parent=g, smooth=False)
    for x in (-7.1, 7.1):
        p.screw(s, (x, 0, 0.18), g, 0.3, s.nickel)
    cylinder(1.25, 0.5, (5.0, 0, 0.4), s.black, bevel=0.1, parent=g)
    box((3.3, 0.75, 1.1), (5.3, 0, 1.0), s.black, (0, 0, 32), bevel=0.25, parent=g)
    box((1.2, 0.1, 0.05), (6.2, 0.56, 1.56), s.white, (0, 0, 32), bevel=0.01, parent=g)
    for x in (1.2, -2.4):
        cylinder(1.2, 0.35, (x, 0, 0.35), s.black, bevel=0.1, parent=g)
        cylinder(0.9, 1.3, (x, 0, 0.95), s.black, bevel=0.15, top=0.78, parent=g)
        cylinder(0.6, 0.05, (x, 0, 1.6), s.nickel, bevel=0.01, parent=g)
    cylinder(0.75, 0.3, (-5.6, 0, 0.28), s.nickel, bevel=0.05, parent=g, sides=6)
    cylinder(0.42, 0.4, (-5.6, 0, 0.3), s.black, bevel=0.05, parent=g)
    plate([rounded(6.0, 8.4, 0.5)], 0.2, (SADDLE - 1.5, 0, 4.3), s.chrome, bevel=0.05, parent=parent, smooth=False)
    box((0.25, 8.4, 1.2), (SADDLE - 4.4, 0, 4.9), s.chrome, bevel=0.08, parent=parent)
    for y in STRINGS:
        cylinder(0.45, 1.6, (SADDLE + rng.uniform(-0.4, 0.4), y, 5.0), s.nickel, (90, 0, 0), bevel=0.06, parent=parent)
        tube([(SADDLE - 4.3, y, 4.9), (SADDLE, y, 4.9)], 0.12, s.rust, parent=parent)
    for at, turn in (((-57.4, 0, 2.1), -90), ((-6, 17.6, 2.1), 60)):
        cylinder(0.7, 0.9, at, s.nickel, (0, 90, turn + 90), bevel=0.2, parent=parent)


def strings(s, parent):
    wound = surface("wound", (0.34, 0.30, 0.25), 0.4, 1, 0.4, 8, 0.3, 60)
    for k, y in enumerate(STRINGS):
        post = (36.8 + (3 - k) * 4.3, 3.3)
        thick = (0.07, 0.085, 0.105, 0.13)[k]
        near = y * 0.56
        tube([(SADDLE - 4.3, y, 5.2), (SADDLE, y, 5.52), (NUT + 0.2, near, 5.55), (post[0] - 0.4, post[1] - 0.55, 4.95)],
             thick, wound, parent=parent, sharp=True)
        p.tuner(s, (post[0], post[1], 4.25), 0, parent=parent)
    cylinder(0.5, 0.35, (38.5, -0.3, 4.9), s.nickel, parent=parent)
    cylinder(0.3, 0.7, (38.5, -0.3, 4.5), s.nickel, parent=parent)


def back_fittings(s, parent):
    """Cover, neck plate, tuner boxes and wear, on the underside (z = 0)."""
    cover = [(x * 0.85 - 43.5, y * 0.95 - 7.6) for x, y in
             [(-8.9, 0.2), (-8.3, 3.6), (-5.2, 5.15), (0, 5.35), (5.2, 5.2), (8.6, 4.2), (9.5, 0.6),
              (8.5, -3.6), (5, -5.1), (0, -5.35), (-5.2, -5.1), (-8.2, -3.7)]]
    lid = surface("lid", (0.03, 0.029, 0.027), 0.4, 0, 0.3, 0.15, 0.02, 3)
    plate([cover], 0.2, (0, 0, -0.06), lid, bevel=0.04, parent=parent)
    turned_over = group((0, 0, 0), (180, 0, 0), parent)
    for x, y in cover[::2]:
        cx, cy = -43.5, -7.6
        p.screw(s, (cx + (x - cx) * 0.9, -(cy + (y - cy) * 0.9), 0.18), turned_over, 0.38, s.nickel)
    plate([rounded(6.4, 5.0, 0.6)], 0.2, (-18.6, 0, -0.08), surface("neck plate", (0.6, 0.6, 0.58), 0.16, 1, 0.3, 0.2, 0.02, 4), bevel=0.05, parent=parent, smooth=False)
    for x in (-21, -16.2):
        for y in (-1.8, 1.8):
            p.screw(s, (x, y, 0.2), turned_over, 0.5, s.nickel)
    wear = painted("buckle wear", (0.30, 0.17, 0.075), chips=0.9, along="X", dust=0)
    plate([[(-37, 3.4), (-33.5, 5.8), (-30.5, 4.8), (-29, 2.8), (-30.8, 0.6), (-33.8, -0.3), (-36.2, 0.7)]],
          0.03, (0, 0, 0.0), wear, bevel=0.01, parent=parent)
    for k in range(9):
        x, y = rng.uniform(-40, -27), rng.uniform(-2, 8)
        a = rng.uniform(-0.4, 0.4)
        tube([(x, y, 0.0), (x + 2.5 * math.cos(a), y + 2.5 * math.sin(a), 0.0)], 0.035, wear, parent=parent)
    for k in range(4):
        x = 36.8 + k * 4.3
        box((3.0, 2.6, 0.3), (x, 3.2, 2.7), s.nickel, bevel=0.1, parent=parent)
        cylinder(0.85, 0.5, (x, 3.0, 2.4), s.brass, bevel=0.08, parent=parent)


def on_blanket(s):
    sheet(260, 200, (0, 0, -1.6), woven("blanket", (0.23, 0.19, 0.165), 2.2, stripe=(0.42, 0.33, 0.22)), folds=1.5, cells=160)


def front():
    s = p.Surfaces()
    on_blanket(s)
    bass(s, group((0, 0, 0.2), (0, 0, 14)))
    surroundings(0.42)
    lamp((-90, 90, 110), (0, 0, 0), 60, 190000, (1, 0.96, 0.9))
    lamp((80, -60, 120), (0, 0, 0), 60, 42000, (0.85, 0.92, 1))
    camera((2, -34, 118), (-0.5, -1.5, 0), 36, roll=-1.5)
    return 0.8


def back():
    s = p.Surfaces()
    on_blanket(s)
    bass(s, group((0, 0, 6.2), (180, 1.2, -13)))
    surroundings(0.42)
    lamp((-80, 90, 110), (0, 0, 0), 60, 190000, (1, 0.96, 0.9))
    lamp((80, -60, 120), (0, 0, 0), 60, 42000, (0.85, 0.92, 1))
    camera((-2, -30, 119), (-0.5, 1.0, 0), 36, roll=2)
    return 0.8


def headstock():
    s = p.Surfaces()
    on_blanket(s)
    bass(s, group((0, 0, 0.2), (0, 0, 0)))
    crumbs(160, (30, 10), (44, 1, 4.31), s.dirt, 0.05)
    surroundings(0.4)
    lamp((10, 50, 60), (42, 0, 3), 26, 36000, (1, 0.94, 0.86))
    lamp((80, -40, 60), (42, 0, 3), 30, 12000, (0.85, 0.92, 1))
    camera((30, 1.5, 46), (42.4, 2.2, 3.5), 42, (42, 1, 4.5), 0.8, roll=-7)
    return 0.7


def lap_steel():
    s = p.Surfaces()
    sheet(240, 180, (0, 0, 0), wood("table", (0.14, 0.075, 0.035), (0.30, 0.17, 0.08), "X", 0.2, 0.65))
    g = group((0, 0, 0), (0, 0, 9))
    body = wood("body", (0.09, 0.032, 0.012), (0.26, 0.105, 0.035), "X", 0.4, 0.25, 0.5, dust=0.15)
    outline = [(-38, 0), (-37, 7), (-31, 10.5), (-22, 10.3), (-15, 7.5), (-8, 4.6), (4, 4.0), (24, 3.6), (27, 4.6),
               (39, 4.4), (41.5, 0), (39, -4.4), (27, -4.6), (24, -3.6), (4, -4.0), (-8, -4.6), (-15, -7.5),
               (-22, -10.3), (-31, -10.5), (-37, -7)]
    plate([outline], 3.6, (0, 0, 1.8), body, bevel=0.4, parent=g)
    board = surface("board", (0.025, 0.024, 0.023), 0.35, 0, 0.2, 0.5, 0.03, dust=0.2)
    plate([[(-13, 3.5), (25, 3.1), (25, -3.1), (-13, -3.5)]], 0.5, (0, 0, 3.8), board, bevel=0.06, parent=g, smooth=False)
    line = surface("line", (0.55, 0.50, 0.36), 0.5)
    red = surface("red mark", (0.40, 0.04, 0.03), 0.4)
    nut, before = 25.0, 25.0
    for n in range(1, 23):
        x = nut - 56 * (1 - 2 ** (-n / 12))
        box((0.12, 6.3, 0.03), (x, 0, 4.05), line, bevel=0.005, parent=g)
        for y in ((-1.2, 1.2) if n == 12 else (0,) if n in (3, 5, 7, 9, 15, 17, 19) else ()):
            box((0.7, 0.7, 0.03), ((x + before) / 2, y, 4.06), red, (0, 0, 45), bevel=0.005, parent=g)
        before = x
    cracked_guard(s, g)
    box((0.6, 6.6, 1.7), (25.5, 0, 4.5), s.chrome, bevel=0.08, parent=g)
    box((0.8, 7.4, 1.6), (-31, 0, 4.4), s.chrome, bevel=0.1, parent=g)
    box((4.0, 8.0, 0.25), (-33, 0, 3.75), s.chrome, bevel=0.06, parent=g)
    box((3.2, 8.0, 1.0), (-22.5, 0, 4.3), s.chrome, bevel=0.3, parent=g)
    for k in range(6):
        y = (k - 2.5) * 1.05
        cylinder(0.22, 0.1, (-22.5, y, 4.83), s.steel, bevel=0.03, parent=g)
        side = 1 if k > 2 else -1
        post = (28.6 + 3.6 * (k - 3 if side > 0 else 2 - k), side * 2.9)
        tube([(-34.5, y, 4.2), (-31, y, 5.25), (25.5, y, 5.38), (post[0], post[1] * 0.82, 4.1)], 0.03 + 0.012 * (5 - k),
             s.nickel, parent=g, sharp=True)
        cylinder(0.3, 1.2, (post[0], post[1], 4.0), s.nickel, bevel=0.05, parent=g)
        cylinder(0.16, 3.2, (post[0], side * 5.0, 2.4), s.nickel, (90, 0, 0), parent=g)
        box((1.5, 1.7, 0.7), (post[0], side * 6.8, 2.4), s.cream, bevel=0.3, parent=g)
    for x, y in ((-29.5, -7.7), (-24.5, -8.3)):
        cylinder(1.15, 0.4, (x, y, 3.95), s.cream, bevel=0.1, parent=g)
        cylinder(0.85, 1.1, (x, y, 4.5), s.cream, bevel=0.15, top=0.75, parent=g)
    crumbs(500, (150, 80), (0, 0, 0.02), s.dirt, 0.09)
    surroundings(0.4)
    lamp((-60, 70, 80), (0, 0, 0), 34, 76000, (1, 0.94, 0.85))
    lamp((60, -50, 80), (0, 0, 0), 40, 17000, (0.85, 0.92, 1))
    camera((1, -36, 78), (0.5, -0.5, 1), 34, roll=1)
    return 0.5


def cracked_guard(s, g):
    """The guard in two pieces: a jagged crack with one edge standing up, a corner gone."""
    pearl = surface("pearl", (0.66, 0.60, 0.46), 0.22, 0, 0.28, 0.5, 0.03, 6, coat=0.4, dust=0.1)
    crack = [(-17.2, 9.0), (-18.0, 7.6), (-17.3, 6.4), (-18.4, 5.2), (-17.8, 4.0), (-18.6, 2.6), (-17.7, 1.1),
             (-18.5, -0.8), (-17.8, -2.4), (-18.7, -4.2), (-18.1, -5.6), (-18.5, -7.4)]
    left = ([(x - 0.13, y) for x, y in reversed(crack)]
            + [(-24, 9.2), (-31, 9.3), (-35.4, 6.5), (-36.3, 2.5), (-35.8, -5), (-33, -8.6), (-30, -9.3), (-22, -9.0)])
    right = ([(x + 0.13, y) for x, y in crack]
             + [(-15.2, -5.8), (-13.5, -4.2), (-13.4, 0), (-13.6, 4.2), (-14.5, 6.2)])
    plate([left], 0.2, (0, 0, 3.72), pearl, bevel=0.04, parent=g, smooth=False)
    plate([right], 0.2, (-0.05, 0.1, 3.95), pearl, (0, -2.2 + 3.0, 0.8), bevel=0.04, parent=g, smooth=False)
    thin = surface("crack line", (0.10, 0.07, 0.04), 0.8)
    for path in ([(-18.2, 5.2), (-20.3, 5.9), (-21.6, 5.3), (-23.4, 6.2)], [(-18.0, 7.7), (-19.6, 8.2), (-20.4, 8.0)],
                 [(-35.5, 3.5), (-34.0, 3.0), (-33.2, 3.6), (-32.2, 3.3)]):
        tube([(x, y, 3.81) for x, y in path], 0.045, thin, parent=g, sharp=True)
    for x, y in ((-34.5, 5.6), (-28, 8.3), (-34.2, -5.8), (-20.5, -7.4), (-15.0, 4.8)):
        p.screw(s, (x, y, 3.86), g, 0.34, s.nickel)
