"""Dressed bodies and their poses: blending, holding the club, skinning (numpy only).

Bay frame, metres: X toward the target, Y from the ball to the player, Z up; a
right-hander. Bones' rest axes are the frame's own, so that a vertex moves as
v' = sum of w (R (v - joint) + p) over its bones.
"""
import json
import os

import numpy as np


def unit(v):
    return v / np.maximum(np.linalg.norm(v, axis=-1, keepdims=True), 1e-12)


def matrix(q):
    """Quaternions ... x 4 (w x y z) -> rotation matrices ... x 3 x 3."""
    w, x, y, z = np.moveaxis(unit(q), -1, 0)
    return np.stack([
        np.stack([1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)], -1),
        np.stack([2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)], -1),
        np.stack([2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)], -1)], -2)


def quaternion(m):
    """One rotation matrix -> quaternion (w x y z); Shepperd 1978."""
    t = np.trace(m)
    if t > 0:
        s = np.sqrt(t + 1) * 2
        return np.array([s / 4, (m[2, 1] - m[1, 2]) / s, (m[0, 2] - m[2, 0]) / s, (m[1, 0] - m[0, 1]) / s])
    i = int(np.argmax(np.diag(m)))
    j, k = (i + 1) % 3, (i + 2) % 3
    s = np.sqrt(1 + m[i, i] - m[j, j] - m[k, k]) * 2
    q = np.zeros(4)
    q[0], q[1 + i] = (m[k, j] - m[j, k]) / s, s / 4
    q[1 + j], q[1 + k] = (m[j, i] + m[i, j]) / s, (m[k, i] + m[i, k]) / s
    return q


def slerp(a, b, t):
    """Quaternions ... x 4, the shortest way."""
    d = (a * b).sum(-1, keepdims=True)
    b = np.where(d < 0, -b, b)
    d = np.clip(np.abs(d), 0, 1)
    th = np.arccos(d)
    s = np.sin(th)
    near = s < 1e-4
    s = np.where(near, 1, s)
    return unit(np.where(near, (1 - t) * a + t * b, (np.sin((1 - t) * th) * a + np.sin(t * th) * b) / s))


def turn(axis, angle):
    """Rotation matrix about an axis (radians); Rodrigues."""
    x, y, z = unit(np.asarray(axis, float))
    k = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.eye(3) + np.sin(angle) * k + (1 - np.cos(angle)) * (k @ k)


def between(a, b):
    """The smallest rotation that takes direction a to b."""
    a, b = unit(a), unit(b)
    v, c = np.cross(a, b), float(a @ b)
    if c < -0.9999:
        return turn(np.cross(a, [0.3, 0.5, 0.8]), np.pi)
    k = np.array([[0, -v[2], v[1]], [v[2], 0, -v[0]], [-v[1], v[0], 0]])
    return np.eye(3) + k + k @ k / (1 + c)


def chain(parents, i):
    """The bones above one."""
    out = set()
    while parents[i] >= 0:
        i = int(parents[i])
        out.add(i)
    return out


class Body:
    """One person: mesh, skeleton, and the poses of both files by mode."""

    def __init__(self, folder, name, poses, more):
        z = np.load(os.path.join(folder, name + ".npz"))
        self.name = name
        self.vertices, self.triangles = z["vertices"].astype(np.float32), z["triangles"].astype(np.int32)
        self.material = z["material"]
        self.index, self.weight = z["bone_index"].astype(int), z["bone_weight"].astype(np.float32) / 255
        self.joints, self.parents = z["joints"].astype(float), z["parents"].astype(int)
        self.below = {h: np.flatnonzero([h in chain(self.parents, i) for i in range(len(self.parents))])
                      for h, n in enumerate(z["bone_names"]) if str(n).startswith("hand")}
        self.bones = {str(n): i for i, n in enumerate(z["bone_names"])}
        self.tails = z["tails"].astype(float)
        self.crown = self.tails[self.bones["head"]]  # top of the skull, in the rest pose
        self.stature = poses["bodies"][name]["body"]["stature"]
        self.club = poses["bodies"][name]["club"]
        self.phases = {}
        for f in poses["bodies"][name]["phases"]:
            grip = "both" if f["mode"] == "both" or f["phase"] == "catch" else "L"
            self.phases.setdefault(f["mode"], []).append(Pose.read(f, grip, self))
        for f in more["bodies"][name]["phases"]:
            self.phases.setdefault(f["mode"], []).append(Pose.read(f, f["grip"], self))

    def skin(self, pose):
        """The mesh in a pose, n x 3 float32."""
        r = matrix(pose.q).astype(np.float32)
        t = (pose.p - np.einsum("bij,bj->bi", r, self.joints)).astype(np.float32)
        m = np.concatenate([r, t[..., None]], 2)
        a = (m[self.index] * self.weight[..., None, None]).sum(1)
        return np.einsum("nij,nj->ni", a[:, :, :3], self.vertices) + a[:, :, 3]


class Pose:
    """World rotations q (61 x 4) and joints p (61 x 3); the club: hands, shaft, toe, or None."""

    def __init__(self, q, p, hands, shaft, toe, grip, phase, u):
        self.q, self.p, self.hands, self.shaft, self.toe = q, p, hands, shaft, toe
        self.grip, self.phase, self.u = grip, phase, u

    @staticmethod
    def read(f, grip, body):
        v = lambda k: None if f[k] is None else np.array(f[k], float)
        q, p = np.array(f["q"], float), np.array(f["p"], float)
        if "hands" not in f or f["hands"] is None:
            grip = None
        return Pose(q, p, v("hands"), v("shaft"), v("toe"), grip, f["phase"], f.get("u", 0.0))

    def copy(self):
        c = lambda a: None if a is None else a.copy()
        return Pose(self.q.copy(), self.p.copy(), c(self.hands), c(self.shaft), c(self.toe), self.grip, self.phase, self.u)

    def frame(self):
        """The club's rotation: columns shaft, toe, shaft x toe."""
        s = unit(self.shaft)
        t = unit(self.toe - s * (self.toe @ s))
        return np.stack([s, t, np.cross(s, t)], 1)

    def moved(self, r, d, pivot=np.zeros(3)):
        """The whole figure turned by r about the pivot and shifted by d."""
        c = self.copy()
        rq = quaternion(r)
        c.q = multiply(rq[None], c.q)
        c.p = (c.p - pivot) @ r.T + pivot + d
        if c.hands is not None:
            c.hands = r @ (c.hands - pivot) + pivot + d
            c.shaft, c.toe = r @ c.shaft, r @ c.toe
        return c


def multiply(a, b):
    aw, ax, ay, az = np.moveaxis(a, -1, 0)
    bw, bx, by, bz = np.moveaxis(b, -1, 0)
    return np.stack([aw * bw - ax * bx - ay * by - az * bz, aw * bx + ax * bw + ay * bz - az * by,
                     aw * by - ax * bz + ay * bw + az * bx, aw * bz + ax * by - ay * bx + az * bw], -1)


ARM = {"L": ["clavicle.L", "shoulder.L", "upperarm.L", "upperarm2.L", "forearm.L", "forearm2.L", "hand.L"],
       "R": ["clavicle.R", "shoulder.R", "upperarm.R", "upperarm2.R", "forearm.R", "forearm2.R", "hand.R"]}


def hold(body, pose, side, wrist, hand):
    """Brings one arm to a wrist place and a hand rotation (3x3): two bones by the law of
    cosines, the elbow kept in the plane it had; fingers go with the hand."""
    b, p, q = body.bones, pose.p, pose.q
    _, sh, up, up2, fo, fo2, ha = (b[n] for n in ARM[side])
    s, e, w = p[up].copy(), p[fo].copy(), p[ha].copy()
    l1, l2 = np.linalg.norm(e - s), np.linalg.norm(w - e)
    d = wrist - s
    n = np.linalg.norm(d)
    reach = l1 + l2
    if n > 0.999 * reach:   # a little stretch, as the poses themselves have
        k = n / (0.999 * reach)
        l1, l2 = l1 * k, l2 * k
    axis = unit(d)
    old = e - s
    side_dir = old - axis * (old @ axis)
    was = unit(w - s)
    bend = old - was * (old @ was)
    if np.linalg.norm(bend) > 0.01:
        side_dir = between(was, axis) @ bend
    side_dir = side_dir - axis * (side_dir @ axis)
    if np.linalg.norm(side_dir) < 1e-6:
        side_dir = np.cross(axis, [0, 0, 1.0])
    c = np.clip((l1 * l1 + n * n - l2 * l2) / (2 * l1 * n), -1, 1)
    elbow = s + axis * l1 * c + unit(side_dir) * l1 * np.sqrt(1 - c * c)
    r1, r2 = between(e - s, elbow - s), between(w - e, wrist - elbow)
    q1, q2, qh = quaternion(r1), quaternion(r2), quaternion(hand @ matrix(q[ha]).T)
    fingers = body.below[ha]
    p[fingers] = wrist + (p[fingers] - w) @ matrix(qh).T
    q[fingers] = multiply(qh[None], q[fingers])
    p[up2] = s + r1 @ (p[up2] - s) * (np.linalg.norm(elbow - s) / max(np.linalg.norm(e - s), 1e-6))
    p[fo2] = elbow + r2 @ (p[fo2] - e) * (np.linalg.norm(wrist - elbow) / max(np.linalg.norm(w - e), 1e-6))
    p[fo], p[ha] = elbow, wrist
    q[up], q[up2] = multiply(q1, q[up]), multiply(q1, q[up2])
    q[fo] = multiply(q2, q[fo])
    # the lower half of the forearm follows the hand's twist in part
    full = multiply(slerp(q2, qh, 0.5)[None], q[fo2][None])[0]
    q[fo2] = multiply(q2, q[fo2]) if np.abs(q2 @ qh) > 0.98 else slerp(multiply(q2, q[fo2]), full, 0.5)
    q[sh] = multiply(slerp(np.array([1.0, 0, 0, 0]), q1, 0.45), q[sh])
    q[ha] = multiply(qh, q[ha])


def regrip(body, pose, hands, frame):
    """The pose with the club at another place: hands point and club frame (3x3); the arms
    that hold it follow."""
    c = pose.copy()
    old = pose.frame()
    r = frame @ old.T
    for side in ("L", "R"):
        if pose.grip == "both" or pose.grip == side:
            h = body.bones["hand." + side]
            wrist = hands + r @ (pose.p[h] - pose.hands)
            hold(body, c, side, wrist, r @ matrix(pose.q[h]))
    c.hands, c.shaft, c.toe = np.array(hands, float), frame[:, 0].copy(), frame[:, 1].copy()
    return c


def blend(body, a, b, t):
    """Between two poses: rotations the shortest way, the trunk by its chain, the arms that
    hold the club to where the club is."""
    if t <= 0:
        return a.copy()
    q = slerp(a.q, b.q, t)
    p = (1 - t) * a.p + t * b.p
    c = Pose(q, p, None, None, None, None, a.phase, (1 - t) * a.u + t * b.u)
    if a.hands is None or b.hands is None:
        return c
    fa, fb = a.frame(), b.frame()
    f = matrix(slerp(quaternion(fa), quaternion(fb), t))
    # hands go round the lead shoulder rather than straight
    s = body.bones["upperarm.L"]
    ra, rb = a.hands - a.p[s], b.hands - b.p[s]
    mid = (1 - t) * ra + t * rb
    length = (1 - t) * np.linalg.norm(ra) + t * np.linalg.norm(rb)
    hands = p[s] + unit(mid) * (0.5 * np.linalg.norm(mid) + 0.5 * length)
    c.hands, c.shaft, c.toe = hands, f[:, 0], f[:, 1]
    c.grip = a.grip if a.grip == b.grip else (a.grip if t < 0.5 else b.grip)
    for side in ("L", "R"):
        if c.grip not in ("both", side):
            continue
        h = body.bones["hand." + side]
        if a.grip in ("both", side) and b.grip in ("both", side):
            wa, wb = fa.T @ (a.p[h] - a.hands), fb.T @ (b.p[h] - b.hands)
            ha, hb = fa.T @ matrix(a.q[h]), fb.T @ matrix(b.q[h])
            w = (1 - t) * wa + t * wb
            r = matrix(slerp(quaternion(ha), quaternion(hb), t))
        else:
            k, fk = (a, fa) if a.grip in ("both", side) else (b, fb)
            w, r = fk.T @ (k.p[h] - k.hands), fk.T @ matrix(k.q[h])
        hold(body, c, side, hands + f @ w, f @ r)
    return c


def load(folder, names=None):
    poses = json.load(open(os.path.join(folder, "poses.json")))
    more = json.load(open(os.path.join(folder, "poses-more.json")))
    names = names or sorted(poses["bodies"])
    return {n: Body(folder, n, poses, more) for n in names}
