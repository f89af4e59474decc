"""Clips of practice with exact truth: whole reps, for setting the track and for testing it.

    blender -b --factory-startup --python practice.py -- --clips 24 [--first 0] [--seed 1] [--samples 16]
        [--width 960] [--swings 0.25] [--only 3,5] [--every 1] [--frames 30-120] --bodies DIR --worlds DIR --part K/N --out DIR [--cuda]

Every third clip is of bodies, worlds and clubs that scene.py keeps out of learning; every sixth is seen
from the front. Writes OUT/cNN-FFFF.jpg and OUT/cNN.truth.json, a row a frame: hands and head in the bay
frame (m) and in the picture (px), shaft line and elevation (degrees), joints in the picture. A left-hander
is a right-hander whose picture is turned over: lengths and angles in the truth are the right-hander's,
pixels those of the picture as it is. A clip is drawn in PIECES pieces, by any part.
"""
import json
import math
import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import bpy
import numpy as np

import bay
import body as bodies
import moves
import scene as S
from club import Club
from colours import look
from figure import plain
from points import POINTS

PIECES = 5
WIDTH, EVERY = S.opt("--width", 960), S.opt("--every", 1)
CLIPS, SWINGS = S.opt("--clips", 24), S.opt("--swings", 0.25)   # how many clips; the share of them that are of whole swings
FROM, TO = (int(v) for v in S.opt("--frames", "0-100000").split("-"))   # of each clip, for a look or a short one


def jerk(x):
    """Least jerk from rest to rest (Flash & Hogan 1985)."""
    x = min(max(x, 0.0), 1.0)
    return x * x * x * (10 - 15 * x + 6 * x * x)


def stopped(x, cut, end):
    """A movement of least jerk that is stopped at a share of its time, within the share `end` of what it took:
    0..1 for x 0..1."""
    f = lambda t: jerk(t * cut)
    knee = 1 - end
    v = (f(knee) - f(knee - 1e-4)) / 1e-4
    whole = f(knee) + v * end / 2
    if x <= knee:
        return f(x) / whole
    s = min(x, 1.0) - knee
    return (f(knee) + v * (s - s * s / (2 * end))) / whole


class Practice:
    """What a player does over time: segments (from, to, pose of the seconds since), and the truth of its reps."""

    def __init__(self, r, body, club, swings):
        self.body, self.club, self.segments, self.events, self.t = body, club, [], [], 0.0
        self.phase, self.freq = r.uniform(0, 6.28, 3), r.uniform(0.2, 0.45, 3)
        self.ground = moves.grounded(body, club)
        self.home = moves.sequence(body, "lead")[0][1]
        self.home = self.ground(self.home, exact=True)
        n = 2 if swings else int(r.integers(2, 4))
        for i in range(n):
            self.swing(r) if swings else self.rep(r)
            if i + 1 < n and r.random() < 0.2:
                self.between(r)
        self.still(0.5)

    def add(self, seconds, pose):
        self.segments.append((self.t, self.t + seconds, pose))
        self.t += seconds

    def still(self, seconds):
        self.add(seconds, lambda s: self.home)

    def start(self, r):
        still = self.t
        if r.random() < 0.25:
            self.still(r.uniform(0.5, 0.8))
            self.waggle(r)
        self.still(r.uniform(0.7, 1.2))
        return still

    def waggle(self, r):
        up = [x for x in self.body.phases["off"] if x.phase == "waggle"][int(r.integers(2))]
        far, long = r.uniform(0.4, 1), r.uniform(0.3, 0.45)
        for _ in range(int(r.integers(1, 3))):
            self.add(2 * long, lambda s: self.ground(bodies.blend(self.body, self.home, up, far * jerk(1 - abs(s / long - 1)))))

    def rep(self, r):
        u = r.uniform
        still = self.start(r)
        mode = str(r.choice(["lead", "both"], p=[0.7, 0.3]))
        rows = moves.sequence(self.body, mode)
        rows[0] = (0.0, self.home)
        line, e, toe = r.normal(0, math.radians(10)), (r.normal(0, math.radians(3)) if u(0, 1) < 0.75 else u(-0.5, 0.3)), r.normal(0, 0.4)
        d = r.normal(0, [0.05, 0.05, 0.03])

        def pose(s, w):
            w = w * w * (3 - 2 * w)
            p = moves.at(self.body, rows, s)
            return self.ground(bodies.regrip(self.body, p, p.hands + w * d, moves.tilt(p.frame(), e * w, line * w, toe * w)))
        back_w = lambda s: min(max((s - 0.62) / 0.48, 0), 1)
        forward = self.t
        tf = u(0.4, 0.65)
        amount = u(0.6, 1.0)
        self.add(tf, lambda s: pose(0.5 * amount * jerk(s / tf), 0))
        turn = self.t
        first = 0.5 * amount
        # the way back from where the forward swing ended: the poses of the way back begin at its full width
        begin = 0.5 + 0.6 * 0.45 * (1 - amount)
        manner = str(r.choice(["swung", "slow", "stop"], p=[0.68, 0.2, 0.12]))
        join = lambda s, q: bodies.blend(self.body, pose(first, 0), q, min(1, s / 0.1)) if amount < 0.98 and s < 0.1 else q
        run = lambda p: pose(begin + (1.1 - begin) * p, back_w(begin + (1.1 - begin) * p))
        if manner == "swung":
            tb, cut, end = u(0.42, 0.75), u(0.5, 0.72), u(0.02, 0.06)
            self.add(tb, lambda s: join(s, run(stopped(s / tb, cut, end))))
        elif manner == "slow":
            tb = u(1.2, 2.2)
            self.add(tb, lambda s: join(s, run(jerk(s / tb))))
        else:
            part, t1, t2, t3 = u(0.4, 0.7), u(0.5, 0.9), u(0.25, 0.5), u(0.5, 0.9)
            self.add(t1 + t2 + t3, lambda s: join(s, run(part * jerk(s / t1) + (1 - part) * jerk((s - t1 - t2) / t3))))
        catch = self.t
        hold = u(0.3, 0.5) if u(0, 1) < 0.2 else u(0.6, 1.1)
        self.add(hold, lambda s: pose(1.1, 1))
        held = self.t
        back = moves.sequence(self.body, "return")
        back[-1] = (back[-1][0], self.home)
        tr = u(0.8, 1.1)

        def home(s):
            x = jerk(s / tr)
            p = moves.at(self.body, back, 0.9 * x)
            w = (1 - x) ** 2 * (1 + 2 * x)
            return self.ground(bodies.regrip(self.body, p, p.hands + w * d, moves.tilt(p.frame(), e * w, line * w, toe * w)))
        self.add(tr, home)
        self.events.append({"rep": len(self.events) + 1, "manner": "swung" if manner == "swung" else "placed", "how": manner, "still_from": still,
                            "forward_start": forward, "back_start": turn, "catch": catch, "hold_to": held, "rep_end": self.t})

    def swing(self, r):
        still = self.start(r)
        rows = moves.sequence(self.body, str(r.choice(["swing", "swing2"])))
        rate = r.uniform(0.85, 1.15)
        e, line, toe = r.normal(0, 0.05), r.normal(0, 0.12), r.normal(0, 0.2)
        d = r.normal(0, 0.015, 3)
        shaped = self.home

        def pose(s):
            w = min(s / 0.4, 1) * (1 - min(max((s - 0.85) / 0.2, 0), 1))
            w = w * w * (3 - 2 * w)
            p = moves.at(self.body, rows, s)
            p = self.ground(bodies.regrip(self.body, p, p.hands + w * d, moves.tilt(p.frame(), e * w, line * w, toe * w)))
            return bodies.blend(self.body, shaped, p, s / 0.1) if s < 0.1 else p
        # a soft start: the sequence's time runs up over 0.15 s
        soft = lambda s: rate * (s * s / 0.3 if s < 0.15 else s - 0.075)
        start, long = self.t, 1.7 / rate + 0.075
        self.add(long, lambda s: pose(min(soft(s), 1.7)))
        when = lambda s: start + s / rate + 0.075
        wait = r.uniform(0.6, 1.1)
        self.add(wait, lambda s: pose(1.7))
        down = r.uniform(1.0, 1.4)
        self.add(down, lambda s: pose(1.7 - 0.6 * jerk(s / down)))
        low = pose(1.1)
        self.add(0.6, lambda s: self.ground(bodies.blend(self.body, low, self.home, jerk(s / 0.6))))
        self.events.append({"rep": len(self.events) + 1, "manner": "swung", "how": "swing", "still_from": still, "back_start": start,
                            "top": when(0.86), "impact": when(1.1), "rep_end": self.t})

    def between(self, r):
        """Something that is no rep: the player bends down, looks at the club, stands."""
        off = [x for x in self.body.phases["off"] if x.phase in ("teeing", "standing", "looking at club", "leaning")]
        p = off[int(r.integers(len(off)))]
        there, stay = r.uniform(0.8, 1.2), r.uniform(0.3, 0.9)
        self.add(there, lambda s: bodies.blend(self.body, self.home, p, jerk(s / there)))
        self.add(stay, lambda s: p)
        self.add(there, lambda s: bodies.blend(self.body, p, self.home, jerk(s / there)))

    def pose(self, t):
        d = 0.003 * np.sin(self.phase + 6.28 * self.freq * t) * [1, 1, 0.2]
        for a, b, f in self.segments:
            if t < b or b == self.segments[-1][1]:
                return f(min(max(t - a, 0.0), b - a)).moved(np.eye(3), d)


def angles(hands, head):
    s = bodies.unit(head - hands)
    return math.degrees(math.atan2(s[1], -s[0])), math.degrees(math.asin(s[2]))


def main():
    height = WIDTH * 9 // 16
    sc = bay.setup(WIDTH, S.SAMPLES, "--cuda" in S.argv, S.PART)
    sc.render.resolution_x, sc.render.resolution_y = WIDTH, height
    people = bodies.load(S.BODIES)
    for n, b in list(people.items()):
        people[n + "-plain"] = plain(b, np.random.default_rng([S.SEED, 99, len(people)]))
    import glob
    worlds = {os.path.basename(f)[:-4]: f for f in sorted(glob.glob(os.path.join(S.WORLDS, "*.exr")))}
    place = bay.Bay(sc, worlds)
    dress, dress2 = bay.Dress("player"), bay.Dress("other")
    players = {n: S.Figure(b, dress.slots, True) for n, b in people.items()}
    others = {n: S.Figure(b, dress2.slots, False) for n, b in people.items() if not n.endswith("plain")}
    material = {n: bay.Surface(n) for n in ("shaft", "grip", "ferrule", "tape", "head")}
    rod = S.Rod({k: m.material for k, m in material.items()})
    cam = bpy.data.objects.new("camera", bpy.data.cameras.new("camera"))
    sc.collection.objects.link(cam)
    sc.camera = cam
    os.makedirs(S.OUT, exist_ok=True)
    clips = [int(v) for v in S.ONLY.split(",")] if S.ONLY else range(S.FIRST, S.FIRST + CLIPS)
    units = [(c, k) for c in clips for k in range(PIECES)]
    for c, k in units[S.PART::S.PARTS]:
        draw(c, k, sc, cam, place, dress, dress2, players, others, material, rod, height)


def draw(c, piece, sc, cam, place, dress, dress2, players, others, material, rod, height):
    r = np.random.default_rng([S.SEED, 7000 + c])
    u = r.uniform
    held, front = c % 3 == 2, c % 6 in (1, 5)
    capsules = r.random() < 0.2
    names = sorted(n for n in players if (n.split("-")[0] in S.HELD_BODIES) == held and n.endswith("-plain") == capsules)
    for f in list(players.values()) + list(others.values()):
        f.hide(True)
    rod.hide()
    player = players[names[int(r.integers(len(names)))]]
    b = player.body
    scale = float(np.clip(u(1.5, 2.0) / b.stature, 0.92, 1.08))
    club = Club(r, scale * b.stature / 1.78, held, capsules)
    own = type("Sized", (), {"hands_to_head": club.hands_to_head / scale})
    swings = r.random() < SWINGS
    todo = Practice(r, b, own, swings)
    left = r.random() < 0.4
    fps = 60 if r.random() < 0.12 else 30
    frames = int(todo.t * fps)

    hands = todo.home.hands * scale
    dist = u(2.2, 4.2)
    if front:
        az = r.normal(0, 0.05)
        position = np.array([0.0, 0.5, 0]) + max(dist, 2.6) * np.array([math.sin(az), -math.cos(az), 0])
        forward = np.array([0, 1.0, 0])
    else:
        position = np.array([hands[0] - dist, hands[1] + r.normal(0, 0.1), 0])
        forward = np.array([1.0, 0, 0])
    position[2] = np.clip(hands[2] + r.normal(0, 0.12), 0.4, 1.5)
    yaw, pitch, roll = (math.radians(r.normal(0, v)) for v in (2.0, 1.5, 1.0))
    forward = bodies.turn([0, 0, 1], yaw) @ forward
    right = bodies.unit(np.cross(forward, [0, 0, 1.0]))
    forward = bodies.turn(right, pitch) @ forward
    down = np.cross(forward, right)
    turned = bodies.turn(forward, roll)
    axes = np.stack([turned @ right, turned @ down, forward])
    field = u(60, 80)
    f = WIDTH / 2 / math.tan(math.radians(field) / 2)
    v = S.View(position, axes, f, np.zeros(2), float(WIDTH))
    project = lambda p: v.full(p)[0] + [WIDTH / 2, height / 2]

    looks = place.random(r, held, S.HELD_WORLDS, "front" if front else "line", position, np.array([0, 0, 0.0214]) if u(0, 1) < 0.4 else None)
    dress.random(r, look)
    dress2.random(r, look)
    for n, m in material.items():
        m.club(r, n, club.look)
    rod.shape(club, r)
    walkers = []
    if r.random() < 0.4:
        pool = [n for n in sorted(others) if (n in S.HELD_BODIES) == held and n != b.name]
        n = pool[int(r.integers(len(pool)))]
        p, turn, pivot, speed = moves.bystander(r, others[n].body)
        where = np.array([*(position + axes[2] * (dist + u(1.5, 4)) + axes[0] * u(-2, 2))[:2], 0.0])
        walkers.append((others[n], (others[n].body.skin(p) - pivot) @ turn.T, where, speed))
        others[n].hide(False)
    exposure = min(float(np.exp(u(math.log(1 / 500), math.log(1 / 60)))), 0.95 / fps)
    v.set(cam, None, dist)
    name = "c%02d" % c

    def shoot(i, file):
        t = i / fps
        for fig, base, where, speed in walkers:
            fig.put(base + where + speed * (t % 6 - 3))
        around = [todo.pose(t - exposure / 2), todo.pose(t), todo.pose(t + exposure / 2)]
        player.hide(False)
        meshes = [b.skin(x) * scale for x in around]
        player.put(meshes[1], meshes[0], meshes[2])
        rod.place(club, [(x.hands * scale, x.shaft, x.toe) for x in around])
        sc.cycles.seed = c * 1000 + i
        sc.render.filepath = os.path.join(os.path.abspath(S.OUT), file)
        sc.frame_set(1)
        bpy.ops.render.render(write_still=True)
    want = u(0.25, 0.5) if not looks["dark"] else u(0.1, 0.2)
    sc.render.resolution_percentage = 20
    trial = "%s-try-%d.jpg" % (name, piece)
    for _ in range(3):
        shoot(0, trial)
        now = bay.brightness(sc.render.filepath)
        if want / 1.2 < now < want * 1.2:
            break
        sc.view_settings.exposure += float(np.clip(1.1 * math.log2(want / max(now, 0.002)) * 1.3, -5, 5))
    os.remove(sc.render.filepath)
    sc.render.resolution_percentage = 100

    flip = lambda q: [round(float(WIDTH - q[0] if left else q[0]), 2), round(float(q[1]), 2)]
    if piece == 0:
        rows = []
        joints = [n for n in POINTS[4:18]]
        for i in range(frames):
            p = todo.pose(i / fps)
            h = p.hands * scale
            e = h + p.shaft * club.hands_to_head
            line, lift = angles(h, e)
            at, where = S.places(b, p, club, scale), {}
            for n in joints:
                where[n.replace("left", "lead").replace("right", "trail")] = flip(project(at[n])) + [round(float(x), 4) for x in at[n]]
            rows.append({"frame": i, "t": round(i / fps, 5), "hands": h.round(5).tolist(), "head": e.round(5).tolist(), "in_out_deg": round(line, 3),
                         "elevation_deg": round(lift, 3), "hands_px": flip(project(h)), "head_px": flip(project(e)), "joints": where})
        far = project(position + np.array([1000.0, 0, 0])) if not front else None
        json.dump({"spec": {"name": name, "width": WIDTH, "height": height, "fps": fps, "view": "front" if front else "line", "held": held,
                            "camera": {"distance": round(float((hands - position) @ np.array([1.0, 0, 0] if not front else [0, 1.0, 0])), 4), "hfov_deg": round(field, 3),
                                       "roll_deg": round(float(-1 if left else 1) * math.degrees(math.atan2(axes[0][2], -axes[1][2])) * -1, 3)},
                            "club": {"length": round(club.length, 4), "hands_from_butt": round(club.grip, 4), "kind": club.kind, "look": club.look},
                            "player": {"hand": "left" if left else "right", "body": b.name, "stature": round(scale * b.stature, 3)}},
                   "focal_px": f, "hands_to_head": club.hands_to_head, "camera_position": position.tolist(), "axes": axes.tolist(),
                   "target_vanishing_point": flip(far) if far is not None else None, "events": todo.events, "truth": rows},
                  open(os.path.join(S.OUT, name + ".truth.json"), "w"))
    n = -(-frames // PIECES)
    for i in range(piece * n, min(frames, piece * n + n)):
        file = "%s-%04d.jpg" % (name, i)
        if i % EVERY == 0 and FROM <= i < TO and not os.path.exists(os.path.join(S.OUT, file)):
            shoot(i, file)
        print("frame", c * 1000 + i, flush=True)


main()
