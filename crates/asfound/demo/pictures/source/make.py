"""Makes the pictures: python make.py [--draft] [number ...]

Final pictures go to the folder above; drafts go to the folder named by ASFOUND_DRAFTS (else /tmp).
"""
import os
import sys
import time

import piexif

import circuit
import coils
import instruments
import kit

HERE = os.path.dirname(os.path.abspath(__file__))
LANDSCAPE, PORTRAIT = (1600, 1200), (1200, 1600)

PICTURES = {}


def picture(file, scene, size=LANDSCAPE, minute=0, samples=12):
    PICTURES[file] = (scene, size, minute, samples)


def register():
    picture("01-front.jpg", instruments.front, minute=2)
    picture("02-back.jpg", instruments.back, minute=4)
    picture("05-neck-coil.jpg", coils.neck_coil, minute=20)
    picture("06-bridge-coil.jpg", coils.bridge_coil, minute=24)
    picture("10-case-dust.jpg", coils.case_dust, minute=46)
    picture("20-valve-amplifier.jpg", coils.valve_amplifier, minute=52)
    picture("09-headstock.jpg", instruments.headstock, PORTRAIT, minute=41)
    picture("21-lap-steel.jpg", instruments.lap_steel, minute=58)
    picture("03-control-cavity.jpg", circuit.control_cavity, minute=12, samples=16)
    picture("04-green-stub.jpg", circuit.green_stub, minute=14)
    picture("07-control-plate.jpg", circuit.control_plate, minute=31)
    picture("08-volume-pot.jpg", circuit.volume_pot, minute=36)


def exif(minute, turned):
    """Date, way up, and for the turned picture a place in mid-ocean that must not leave the shop."""
    taken = "2026:11:03 10:%02d:00" % minute
    tags = {"0th": {piexif.ImageIFD.Orientation: 6 if turned else 1, piexif.ImageIFD.DateTime: taken},
            "Exif": {piexif.ExifIFD.DateTimeOriginal: taken, piexif.ExifIFD.DateTimeDigitized: taken}}
    if turned:
        tags["GPS"] = {
            piexif.GPSIFD.GPSVersionID: (2, 3, 0, 0),
            piexif.GPSIFD.GPSLatitudeRef: "N", piexif.GPSIFD.GPSLatitude: ((31, 1), (14, 1), (27, 1)),
            piexif.GPSIFD.GPSLongitudeRef: "W", piexif.GPSIFD.GPSLongitude: ((41, 1), (52, 1), (9, 1))}
    return piexif.dump(tags)


def make(file, draft):
    scene, size, minute, samples = PICTURES[file]
    turned = size == PORTRAIT
    drafts = os.environ.get("ASFOUND_DRAFTS", "/tmp")
    raw = os.path.join(drafts, file.replace(".jpg", ".png"))
    begun = time.time()
    kit.clear()
    exposure = scene()
    share = 0.3 if draft else 0.66
    kit.take(raw, tuple(int(d * share) for d in size), 8 if draft else samples, exposure)
    if draft:
        print(raw, round(time.time() - begun), "s")
        return
    image = kit.phone_look(raw, size, seed=minute + 1)
    if turned:
        image = image.rotate(90, expand=True)   # stored lying; orientation 6 turns it upright
    target = os.path.join(HERE, "..", file)
    for quality in (82, 76, 70, 64):
        image.save(target, quality=quality, optimize=True, exif=exif(minute, turned))
        if os.path.getsize(target) <= 350_000:
            break
    print(target, os.path.getsize(target), "bytes", round(time.time() - begun), "s")


if __name__ == "__main__":
    register()
    wanted = [a for a in sys.argv[1:] if a != "--draft"]
    for name in sorted(PICTURES):
        if not wanted or any(name.startswith(w) for w in wanted):
            make(name, "--draft" in sys.argv)
