"""Windows of clips with known truth, for looking at only: never learnt from.

    clips.py FOLDER OUT     FOLDER holds NAME.avi and NAME.truth.json

The truth file has `truth`, a row a frame with hands and head in metres (bay frame) and
pixels, `focal_px`, `camera_position`, and `events` with the times of each rep. Writes
OUT in the form of scene.py, with hands, head, grip end and shaft end; the rest is marked
as not known. Needs ffmpeg.
"""
import glob
import json
import os
import random
import subprocess
import sys
import tempfile

from PIL import Image

from points import POINTS

SIZE = 320
HOSEL = 0.05


def main(folder, out, every=7):
    os.makedirs(out, exist_ok=True)
    lines = []
    for path in sorted(glob.glob(os.path.join(folder, "*.truth.json"))):
        t = json.load(open(path))
        name = os.path.basename(path)[:-len(".truth.json")]
        r = random.Random(name)
        with tempfile.TemporaryDirectory() as tmp:
            subprocess.run(["ffmpeg", "-loglevel", "error", "-i", path.replace(".truth.json", ".avi"), "-q:v", "1", tmp + "/%05d.png"], check=True)
            frame = lambda i: Image.open(tmp + "/%05d.png" % (i + 1)).convert("RGB")
            fps, f, cam = t["spec"]["fps"], t["focal_px"], t["camera_position"]
            first = t["truth"][2]
            n = min(len(t["truth"]), len(os.listdir(tmp)))
            for k, metres in enumerate((2.2, 1.1)):
                for i in range(4 + k * 3, n, every):
                    row = t["truth"][i]
                    z = row["hands"][0] - cam[0]
                    side = metres * f / z * r.uniform(0.9, 1.1)
                    h, e = row["hands_px"], row["head_px"]
                    if k == 0:
                        c = [first["hands_px"][0] - 0.05 * side, first["hands_px"][1] + 0.0 * side]
                    else:
                        c = [0.6 * h[0] + 0.4 * e[0], 0.6 * h[1] + 0.4 * e[1]]
                    c = [v + r.gauss(0, 0.06) * side for v in c]
                    sec = i / fps
                    kind = "address"
                    for ev in t["events"]:
                        start = ev.get("forward_start", ev["back_start"])
                        if ev.get("catch") and ev["catch"] + 0.08 < sec < ev["hold_to"] - 0.05:
                            kind = "hold"
                        elif start < sec < ev["rep_end"]:
                            kind = "back" if ev.get("catch") and sec < ev["catch"] + 0.08 else ("swing" if "impact" in ev else "return")
                    step = max(1, round(fps / 30))
                    before, after = t["truth"][max(i - 1, 0)], t["truth"][min(i + 1, n - 1)]
                    speed = sum((a - b) ** 2 for a, b in zip(after["head_px"], before["head_px"])) ** 0.5 * fps / 2 / side * SIZE
                    scene = {"scene": len(lines), "held": True, "view": "line", "window": "close" if k else "whole", "size": SIZE, "side": side, "f": f, "set": name, "pictures": []}
                    for what, j in (("address", 2), ("before-0", max(0, i - step)), ("now-0", i)):
                        q = t["truth"][j]
                        file = "%s-%d-%04d-%s.jpg" % (name, k, i, what)
                        box = (c[0] - side / 2, c[1] - side / 2, c[0] + side / 2, c[1] + side / 2)
                        frame(j).transform((SIZE, SIZE), Image.EXTENT, box, Image.BICUBIC if side < SIZE else Image.BICUBIC, fillcolor=(127, 127, 127)).save(os.path.join(out, file), quality=95)
                        zh, ze = q["hands"][0] - cam[0], q["head"][0] - cam[0]
                        length, grip = t["hands_to_head"], t["spec"]["club"]["hands_from_butt"]

                        def along(d):   # d metres from the hands toward the head; in perspective
                            w = d / length
                            a, b = (1 - w) * zh, w * ze
                            return [(a * q["hands_px"][m] + b * q["head_px"][m]) / (a + b) for m in (0, 1)], a + b
                        pts = [[0, 0, 0, -1] for _ in POINTS]
                        for p, d in ((0, -grip), (1, 0), (2, length - HOSEL), (3, length)):
                            (u, v), depth = along(d)
                            x, y = (u - c[0]) / side * SIZE + SIZE / 2, (v - c[1]) / side * SIZE + SIZE / 2
                            inside = 0 <= x < SIZE and 0 <= y < SIZE and 0 <= u < t["spec"]["width"] and 0 <= v < t["spec"]["height"]
                            pts[p] = [x, y, depth, 2 if inside else 0]
                        scene["pictures"].append({"file": file, "name": what, "kind": kind if what == "now-0" else "address", "speed": speed, "points": pts})
                    lines.append(scene)
    with open(os.path.join(out, "truth-0.jsonl"), "w") as o:
        for s in lines:
            o.write(json.dumps(s) + "\n")
    print(len(lines), "windows")


if __name__ == "__main__":
    main(*sys.argv[1:3])
