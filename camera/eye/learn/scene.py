"""Draws practice bays with Blender's Cycles: pictures with every keypoint's true place.

    ... -- --scenes 1000 [--first 0] [--size 320] [--samples 10] [--seed 1] --bodies DIR --worlds DIR
           --part K/N --out DIR [--cuda]

A scene is one bay, one camera window, one player with one club; its pictures are the
empty bay, the player at address, and pairs of moments (shortly before, then). Every
HELD-th scene draws on bodies, worlds and clubs that no other scene has.
Writes DIR/NNNNNN-P.jpg and lines of DIR/truth-K.jsonl; see README.md for their form.
"""
import glob
import json
import math
import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import bpy
import numpy as np
from mathutils import Matrix, Quaternion

import bay
import body as bodies
import moves
from club import Club, blade, block, egg, head_frame, tube, wood
from colours import look
from figure import plain
from points import POINTS

HELD = 12
HELD_BODIES = {"m06", "m08", "w03"}
HELD_WORLDS = {"hall", "park", "workshop", "city"}
MOMENTS = 4
PLAIN = 0.4

argv = sys.argv[sys.argv.index("--") + 1:]


def opt(name, default):
    return type(default)(argv[argv.index(name) + 1]) if name in argv else default


SCENES, FIRST, SIZE, SAMPLES, SEED = opt("--scenes", 10), opt("--first", 0), opt("--size", 320), opt("--samples", 12), opt("--seed", 1)
OUT, BODIES, WORLDS = opt("--out", "out"), opt("--bodies", "/data/bodies"), opt("--worlds", "/data/worlds")
PART, PARTS = (int(v) for v in opt("--part", "0/1").split("/"))
ONLY, JUST = opt("--only", ""), opt("--just", "")   # some scenes, some pictures of them, for a look


class Figure:
    """A person in the scene: a mesh with two shape keys for the shutter's opening and closing."""

    def __init__(self, b, slots, blur):
        self.body = b
        me = bpy.data.meshes.new(b.name)
        me.from_pydata(b.vertices.tolist(), [], b.triangles.tolist())
        for s in slots:
            me.materials.append(s)
        me.polygons.foreach_set("material_index", b.material.astype(np.int32))
        me.polygons.foreach_set("use_smooth", np.ones(len(b.triangles), bool))
        rest = me.attributes.new("rest", "FLOAT_VECTOR", "POINT")
        rest.data.foreach_set("vector", b.vertices.ravel())
        me.update()
        self.mesh, self.object = me, bpy.data.objects.new(b.name, me)
        bpy.context.scene.collection.objects.link(self.object)
        self.keys = []
        if blur:
            self.object.shape_key_add(name="middle")
            for n, frames in (("opening", ((0, 1), (1, 0), (2, 0))), ("closing", ((0, 0), (1, 0), (2, 1)))):
                k = self.object.shape_key_add(name=n)
                self.keys.append(k)
                for f, v in frames:
                    k.value = v
                    k.keyframe_insert("value", frame=f)
            for fc in me.shape_keys.animation_data.action.fcurves:
                for p in fc.keyframe_points:
                    p.interpolation = "LINEAR"
        self.hide(True)

    def hide(self, on):
        self.object.hide_render = on
        self.object.hide_viewport = on

    def put(self, middle, opening=None, closing=None):
        if self.keys:
            for k, v in zip(self.mesh.shape_keys.key_blocks, (middle, opening, closing)):
                k.data.foreach_set("co", np.ascontiguousarray(v, np.float32).ravel())
        self.mesh.vertices.foreach_set("co", np.ascontiguousarray(middle, np.float32).ravel())
        self.mesh.update()
        self.mesh.update_tag()


class Rod:
    """The club's parts as objects that move rigidly; three keys tell their way during the exposure."""

    def __init__(self, material):
        self.parts = {}
        make = lambda n, vf, m: self.parts.__setitem__(n, bay.mesh_object(n, *vf, m, smooth=n not in ("blade", "block")))
        make("shaft", tube(1, 0.6), material["shaft"])
        make("grip", tube(1, 0.8), material["grip"])
        make("ferrule", tube(1, 0.8), material["ferrule"])
        make("tape", tube(1, 1), material["tape"])
        make("blade", blade(30, 1), material["head"])
        make("wood", wood(False, 1), material["head"])
        make("small wood", wood(True, 1), material["head"])
        make("block", block(), material["head"])
        make("egg", egg(), material["head"])
        for o in self.parts.values():
            o.rotation_mode = "QUATERNION"
            for f in (0, 1, 2):
                o.keyframe_insert("location", frame=f)
                o.keyframe_insert("rotation_quaternion", frame=f)
            for fc in o.animation_data.action.fcurves:
                for p in fc.keyframe_points:
                    p.interpolation = "LINEAR"

    def hide(self):
        for o in self.parts.values():
            o.hide_render = o.hide_viewport = True

    def shape(self, club, r):
        v, _ = blade(club.loft, club.size)
        me = self.parts["blade"].data
        me.vertices.foreach_set("co", v.astype(np.float32).ravel())
        me.update()
        self.parts["wood"].scale = self.parts["small wood"].scale = (club.size,) * 3
        self.parts["block"].scale = self.parts["egg"].scale = (r.uniform(0.03, 0.11), r.uniform(0.025, 0.08), r.uniform(0.025, 0.07))
        self.tape = (r.uniform(0.02, 0.05), r.uniform(0.0, 0.12))

    def place(self, club, states):
        """states: for opening, middle, closing (hands, shaft, toe)."""
        L, on = club.length, {"shaft", "grip", "ferrule", club.head} | ({"tape"} if club.tape else set())
        low = L - club.hosel
        spans = {"shaft": (0.02, low + 0.01, club.butt), "grip": (0.0, 0.27, club.butt * 1.75),
                 "ferrule": (low - 0.02, L - 0.008, club.tip * 1.45), "tape": (low - 0.03 - sum(self.tape), low - 0.03 - self.tape[1], club.tip * 1.35)}
        for n, o in self.parts.items():
            o.hide_render = o.hide_viewport = n not in on
            if n not in on:
                continue
            last, rows = None, []
            for hands, shaft, toe in states:
                butt = hands - shaft * club.grip
                if n in spans:
                    a, b, radius = spans[n]
                    m = np.stack([toe, np.cross(shaft, toe), shaft], 1)
                    at = butt + shaft * a
                    o.scale = (radius, radius, b - a)
                else:
                    m, at = head_frame(shaft, toe, club.lie), butt + shaft * L
                q = bodies.quaternion(m)
                q = -q if last is not None and q @ last < 0 else q
                last = q
                rows.append((at, q))
            for fc in o.animation_data.action.fcurves:
                for i, p in enumerate(fc.keyframe_points):
                    v = float(rows[i][0][fc.array_index] if fc.data_path == "location" else rows[i][1][fc.array_index])
                    p.co[1] = v
                fc.update()


class View:
    """A camera (position, axes right/down/forward, focal length f in pixels of a 1280 wide
    picture) and the square window of it that is drawn, `side` of its pixels wide."""

    def __init__(self, position, axes, f, centre, side):
        self.position, self.axes, self.f, self.centre, self.side = position, axes, f, centre, side

    def full(self, p):
        d = (np.asarray(p, float) - self.position) @ self.axes.T
        return self.f * d[..., :2] / d[..., 2:3], d[..., 2]

    def project(self, p):
        """Points ... x 3 -> window pixels (the middle of the first is 0.5) and depth."""
        q, z = self.full(p)
        return (q - self.centre) / self.side * SIZE + SIZE / 2, z

    def set(self, cam, fstop, focus):
        m = np.eye(4)
        m[:3, :3] = np.stack([self.axes[0], -self.axes[1], -self.axes[2]], 1)
        m[:3, 3] = self.position
        cam.matrix_world = Matrix(m.tolist())
        d = cam.data
        d.sensor_fit, d.sensor_width = "HORIZONTAL", 36.0
        d.lens = self.f / self.side * 36.0
        d.shift_x, d.shift_y = self.centre[0] / self.side, -self.centre[1] / self.side
        d.clip_start, d.clip_end = 0.05, 200
        d.dof.use_dof = fstop is not None
        if fstop:
            d.dof.focus_distance, d.dof.aperture_fstop = focus, fstop


def camera(r, target, view):
    """A random camera for a view: position, axes, focal length in pixels of 1280."""
    u = r.uniform
    dist = u(1.8, 4.6) if r.random() < 0.85 else u(4.6, 6.0)
    if view == "line":
        az = r.normal(0, 0.13)
        pos = target + dist * np.array([-math.cos(az), math.sin(az), 0])
    elif view == "front":
        az = r.normal(0, 0.14)
        pos = target + max(dist, 2.2) * np.array([math.sin(az), -math.cos(az), 0])
    else:
        az = u(-0.6, 2.3)
        pos = target + dist * np.array([-math.cos(az), -math.sin(az), 0])
    pos[2] = np.clip(r.normal(0.85, 0.2), 0.35, 1.7) if r.random() < 0.75 else u(0.3, 1.7)
    aim = np.array([target[0], target[1], target[2] + r.normal(0, 0.1)]) - pos
    yaw, pitch, roll = r.normal(0, 0.09), r.normal(0, 0.06), r.normal(0, 0.025)
    fwd = aim / np.linalg.norm(aim)
    if view == "line" and r.random() < 0.7:
        fwd = np.array([1.0, 0, 0])
    fwd = bodies.turn([0, 0, 1], yaw) @ fwd
    right = bodies.unit(np.cross(fwd, [0, 0, 1.0]))
    fwd = bodies.turn(right, pitch) @ fwd
    down = np.cross(fwd, right)
    a = bodies.turn(fwd, roll)
    f = 640 / math.tan(math.radians(u(45, 95)) / 2)
    return pos, np.stack([a @ right, a @ down, fwd]), f


def cover(view, mesh, triangles):
    """A body as the picture has it: its vertices and the middles of its triangles, x, y, depth."""
    q, d = view.project(np.concatenate([mesh, mesh[triangles].mean(1)]))
    return np.concatenate([q, d[:, None]], 1)


def seen(view, point, depth, cloud, slack):
    """Whether bodies (`cover`) leave a point in view: nearer ones
    about it, by more than slack."""
    reach = max(1.0, 0.014 * view.f / max(depth, 0.2) / view.side * SIZE)
    near = (np.abs(cloud[:, 0] - point[0]) < reach) & (np.abs(cloud[:, 1] - point[1]) < reach) & (cloud[:, 2] < depth - slack)
    return int(near.sum()) < 2


SLACK = {"grip_end": 0.06, "hands": 0.1, "shaft_end": 0.03, "head": 0.04, "crown": 0.14, "neck": 0.12, "shoulder": 0.15,
         "elbow": 0.1, "wrist": 0.08, "hip": 0.17, "knee": 0.12, "ankle": 0.11, "ball": 0.03}


def places(b, pose, club, scale):
    """Where the keypoints of a pose are in the bay frame (m), by name; those of the club where it is held."""
    at, p = {}, pose.p * scale
    for side, name in (("L", "left"), ("R", "right")):
        for bone, point in (("upperarm", "shoulder"), ("forearm", "elbow"), ("hand", "wrist"), ("thigh", "hip"), ("shin", "knee"), ("foot", "ankle")):
            at[name + "_" + point] = p[b.bones[bone + "." + side]]
    at["neck"] = p[b.bones["neck1"]]
    h = b.bones["head"]
    at["crown"] = p[h] + scale * (bodies.matrix(pose.q[h]) @ (b.crown - b.joints[h]))
    if pose.hands is not None:
        hands = pose.hands * scale
        butt = hands - pose.shaft * club.grip
        at["grip_end"], at["hands"] = butt, hands
        at["shaft_end"] = butt + pose.shaft * (club.length - club.hosel)
        at["head"] = butt + pose.shaft * club.length
    return at


def truth(view, player, pose, club, ball, cloud, scale):
    """For each keypoint [x, y, depth, state]: 0 not in the window, 1 hidden, 2 seen; and
    where it is in the bay frame (m), or None."""
    at = places(player.body, pose, club, scale) if pose is not None else {}
    if ball is not None:
        at["ball"] = ball
    rows = []
    for n in POINTS:
        if n not in at:
            rows.append([0, 0, 0, 0])
            continue
        q, z = view.project(at[n])
        inside = z > 0.1 and 0 <= q[0] < SIZE and 0 <= q[1] < SIZE
        s = SLACK[n.split("_")[-1] if n not in SLACK else n]
        state = 0 if not inside else 2 if seen(view, q, z, cloud, s) else 1
        rows.append([round(float(q[0]), 2), round(float(q[1]), 2), round(float(z), 3), state])
    return rows, [[round(float(c), 4) for c in at[n]] if n in at else None for n in POINTS]


def main():
    sc = bay.setup(SIZE, SAMPLES, "--cuda" in argv, PART)
    people = bodies.load(BODIES)
    for n, b in list(people.items()):   # each process has plain figures of its own
        people[n + "-plain"] = plain(b, np.random.default_rng([SEED, PART, len(people)]))
    worlds = {os.path.basename(f)[:-4]: f for f in sorted(glob.glob(os.path.join(WORLDS, "*.exr")))}
    place = bay.Bay(sc, worlds)
    dress, dress2 = bay.Dress("player"), bay.Dress("other")
    players = {n: Figure(b, dress.slots, True) for n, b in people.items()}
    others = {n: Figure(b, dress2.slots, False) for n, b in people.items()}
    material = {n: bay.Surface(n) for n in ("shaft", "grip", "ferrule", "tape", "head")}
    rod, spare = Rod({k: m.material for k, m in material.items()}), Rod({k: m.material for k, m in material.items()})
    cam = bpy.data.objects.new("camera", bpy.data.cameras.new("camera"))
    sc.collection.objects.link(cam)
    sc.camera = cam
    os.makedirs(OUT, exist_ok=True)
    path = os.path.join(OUT, "truth-%d.jsonl" % PART)
    have = set()
    if os.path.exists(path):
        good = [l for l in open(path)]
        if good and not good[-1].endswith("}\n"):
            open(path, "w").writelines(good[:-1])
    for t in glob.glob(os.path.join(OUT, "truth-*.jsonl")):
        have |= {json.loads(l)["scene"] for l in open(t) if l.endswith("}\n")}
    todo = [int(v) for v in ONLY.split(",")] if ONLY else range(FIRST + PART, FIRST + SCENES, PARTS)
    with open(path, "a", buffering=1) as out:
        for s in todo:
            if s in have:
                continue
            rows = draw(s, sc, cam, place, dress, dress2, players, others, material, rod, spare)
            out.write(json.dumps(rows) + "\n")


def draw(s, sc, cam, place, dress, dress2, players, others, material, rod, spare):
    r = np.random.default_rng([SEED, s])
    u = r.uniform
    held = s % HELD == HELD - 1
    capsules = np.random.default_rng([SEED, s, 1]).random() < PLAIN
    # some scenes have plain figures, made of capsules, and nobody else
    names = sorted(n for n in players if (n.split("-")[0] in HELD_BODIES) == held and n.endswith("-plain") == capsules)
    for f in list(players.values()) + list(others.values()):
        f.hide(True)
    rod.hide()
    spare.hide()
    player = players[names[int(r.integers(len(names)))]]
    b = player.body
    scale = float(np.clip(u(1.5, 2.0) / b.stature, 0.9, 1.1))
    club = Club(r, scale * b.stature / 1.78, held, capsules)
    # the poses know the body at its own size: so the club, for them, is the smaller or larger
    own = type("Sized", (), {"hands_to_head": club.hands_to_head / scale})
    view = str(r.choice(["line", "front", "between"], p=[0.62, 0.22, 0.16]))
    moments = [moves.pick(r, b, own) for _ in range(MOMENTS)]
    if view == "line":   # end-on is seldom by chance and hard: draw it often
        for i in range(MOMENTS):
            if r.random() < 0.38:
                for _ in range(12):
                    m = moves.pick(r, b, own)
                    p = m.pose(0.0)
                    if p is not None and p.hands is not None and abs(p.shaft[1]) < 0.22 and abs(p.shaft[2]) < 0.3 and p.shaft[0] < 0:
                        moments[i] = m
                        break
    ball = None
    if r.random() < (0.75 if any(m.kind == "leaving" for m in moments) else 0.4):
        ball = np.array([r.normal(0.0, 0.03), r.normal(0.0, 0.03), 0.0214 + (0.03 if r.random() < 0.3 else 0)])

    # camera and window
    about = next((m for m in moments if m.kind != "nobody"), None)
    anchor = about.pose(0.0) if about else b.phases["both"][0]
    hands = anchor.hands if anchor.hands is not None else anchor.p[b.bones["spine3"]]
    target = np.array([0.0, 0.45, 0.8]) * scale + [0, r.normal(0, 0.22), 0]
    position, axes, f = camera(r, target, view)
    v = View(position, axes, f, np.zeros(2), 1.0)
    kind = str(r.choice(["close", "whole", "far"], p=[0.42, 0.43, 0.15]))
    hip = anchor.p[0] * scale
    middle = np.array([hip[0], hip[1] - 0.25, 0.85 * scale])
    if kind == "close" and anchor.hands is not None:
        h = np.array(hands) * scale
        w = u(0.4, 1.0) if about and about.kind == "leaving" else u(0.0, 0.9)
        middle = h + w * club.hands_to_head * anchor.shaft
        metres = math.exp(u(math.log(0.75), math.log(1.7)))
    elif kind == "far":
        metres = u(2.9, 5.5)
    else:
        metres = u(1.9, 2.9) * (1.15 if view == "front" else 1)
    c, z = v.full(middle)
    z = max(float(z), 0.6)
    v.side = metres * f / z
    v.centre = c + r.normal(0, 0.13, 2) * v.side

    # moments whose hands the window does not show are drawn again
    for i, m in enumerate(moments):
        for _ in range(6):
            p = moments[i].pose(0.0)
            if p is None or p.hands is None:
                break
            along = 0.9 if moments[i].kind == "leaving" else 0.4
            q, _d = v.project((p.hands + along * club.hands_to_head * p.shaft) * scale)
            if np.abs(q / SIZE - 0.5).max() < 0.42 or r.random() < 0.1:
                break
            m = moves.pick(r, b, own)
            if m.kind != "nobody" and m.pose(0.0).hands is not None:
                moments[i] = m

    # looks
    looks = place.random(r, held, HELD_WORLDS, view, position, ball, capsules)
    # a dark shaft before dark clothes is hard to see and common: draw it often
    dark = 0.5 if club.look in ("black", "graphite") else 0.1
    dress.random(r, look, dark=r.random() < dark)
    dress2.random(r, look)
    for n, m in material.items():
        m.club(r, n, club.look)
    rod.shape(club, r)
    spare.shape(club, r)

    # somebody else
    cloud_others, walkers = [], []
    if r.random() < 0.4:
        pool = [n for n in sorted(others) if n in names or r.random() < 0.1]
        pool = [n for n in pool if (n.split("-")[0] in HELD_BODIES) == held and n != b.name]
        for n in list(r.permutation(pool))[: int(r.integers(1, 4))]:
            p, yaw, pivot, speed = moves.bystander(r, others[n].body)
            ahead = -axes[2] if r.random() < 0.05 else axes[2]
            where = np.array([*(position + ahead * u(1.0, 8.0) + axes[0] * u(-2.5, 2.5))[:2], 0.0])
            if np.linalg.norm(where[:2] - hip[:2]) < 1.1 or np.linalg.norm(where[:2] - position[:2]) < 0.9:
                where = np.array([*(position + axes[2] * u(4.5, 9.0) + axes[0] * u(-2, 2))[:2], 0.0])
            if np.linalg.norm(where[:2] - hip[:2]) < 1.0:
                continue
            size = u(0.92, 1.08)
            base = (others[n].body.skin(p) - pivot) @ yaw.T * size
            walkers.append((others[n], base, where, speed))
            if p.hands is not None and r.random() < 0.5:
                spare.place(club, [((yaw @ (p.hands - pivot)) * size + where, yaw @ p.shaft, yaw @ p.toe)] * 3)
            others[n].hide(False)

    exposure = float(np.exp(u(math.log(1 / 1500), math.log(1 / 30)) if r.random() < 0.65 else u(math.log(1 / 200), math.log(1 / 30))))
    if looks["dark"]:
        exposure = max(exposure, 1 / 125)
    step = float(r.choice([1 / 15, 1 / 24, 1 / 30, 1 / 30, 1 / 30, 1 / 60, 1 / 60, 1 / 120]))
    exposure = min(exposure, 0.95 * step)
    fstop = None if r.random() < 0.7 else u(0.6, 4.0)
    v.set(cam, fstop, z * u(0.8, 1.3))

    shots = [("empty", None, 0.0)]
    first = moves.Moment("address", b, moves.sequence(b, "both" if r.random() < 0.4 else "lead")[:1],
                         change=lambda p: moves.grounded(b, own)(p, exact=True))
    shots.append(("address", first, 0.0))
    for i, m in enumerate(moments):
        shots += [("before-%d" % i, m, -step), ("now-%d" % i, m, 0.0)]
    rows = {"scene": s, "held": held, "body": b.name, "club": club.kind, "shaft": club.look, "view": view, "window": kind,
            "exposure": round(exposure, 5), "step": round(step, 5), "side": round(v.side, 2), "f": round(f, 2), "size": SIZE, "world": looks["world"], "dark": bool(looks["dark"]),
            "px_per_m": round(v.f / z / v.side * SIZE, 2),
            "camera": {"position": position.round(5).tolist(), "axes": axes.round(6).tolist(), "centre": v.centre.round(3).tolist()}, "pictures": []}
    for i, (name, m, dt) in enumerate(shots):
        if JUST and name not in JUST.split(","):
            continue
        clouds = []
        t = 0.3 * i + dt
        for fig, base, where, speed in walkers:
            w = base + where + speed * (t % 1.5 - 0.75)
            fig.put(w)
            clouds.append(cover(v, w, fig.body.triangles))
        pose = m.pose(dt) if m is not None else None
        speed = 0.0
        if pose is None:
            player.hide(True)
            rod.hide()
        else:
            around = [m.pose(dt - exposure / 2), pose, m.pose(dt + exposure / 2)]
            meshes = [b.skin(x) * scale for x in around] if m.rate != 0 or m.kind == "off" else [b.skin(pose) * scale] * 3
            player.hide(False)
            player.put(meshes[1], meshes[0], meshes[2])
            if pose.hands is not None:
                rod.place(club, [(x.hands * scale, x.shaft, x.toe) for x in around])
                tip = [v.project(x.hands * scale + x.shaft * club.hands_to_head)[0] for x in around]
                speed = float(np.linalg.norm(tip[2] - tip[0]) / exposure)
            else:
                rod.hide()
            clouds.append(cover(v, meshes[1], b.triangles))
        cloud = np.concatenate(clouds) if clouds else np.zeros((0, 3))
        file = "%06d-%d.jpg" % (s, i)
        sc.cycles.seed = s * 16 + i
        sc.render.filepath = os.path.join(os.path.abspath(OUT), file)
        sc.frame_set(1)
        bpy.ops.render.render(write_still=True)
        for _ in range(2 if not rows["pictures"] else 0):   # as a camera does, the exposure follows the light
            want = (r.uniform(0.06, 0.16) if looks["dark"] else r.uniform(0.2, 0.55))
            now = bay.brightness(sc.render.filepath)
            if want / 1.7 < now < want * 1.5:
                break
            sc.view_settings.exposure += float(np.clip(1.1 * math.log2(want / max(now, 0.002)) * 1.3, -5, 5))
            bpy.ops.render.render(write_still=True)
        points, at = truth(v, player, pose, club, ball, cloud, scale)
        rows["pictures"].append({"file": file, "name": name, "kind": m.kind if m is not None else "nobody", "speed": round(speed, 1), "points": points, "at": at})
        print("frame", s * 16 + i, flush=True)
    return rows


if __name__ == "__main__":
    main()
