"""Moments of practice: which pose a player is in, and how it moves just then.

A Moment gives a pose at any time near it; `u` orders the phases of the files. All times
in seconds. The player is a right-hander in the bay frame; left-handers are mirrored when
learning.
"""
import math

import numpy as np

from body import blend, multiply, quaternion, regrip, turn, unit

# When the phases of a whole swing are passed (s, a common rhythm; common practice).
SWING_TIME = {0.0: 0.0, 0.12: 0.26, 0.24: 0.46, 0.36: 0.6, 0.43: 0.69, 0.5: 0.86, 0.56: 0.95, 0.62: 1.0,
              0.68: 1.04, 0.73: 1.075, 0.76: 1.095, 0.79: 1.115, 0.84: 1.15, 0.9: 1.23, 0.95: 1.36, 1.0: 1.7}


def sequence(body, mode):
    """Poses in order with their time: [(t, pose)], for a mode of movement."""
    if mode in ("lead", "both"):
        ph = body.phases[mode]
        by = lambda n: [x for x in ph if x.phase == n]
        fwd, back = by("forward"), by("back")
        rows = [(0.0, by("address")[0])]
        rows += [(0.5 * x.u, x) for x in fwd]
        rows += [(0.5 + 0.6 * x.u, x) for x in back]
        rows += [(1.1, by("catch")[0])]
        return rows
    if mode == "direct":   # from address straight back, without the forward swing
        ph = body.phases["both"]
        rows = [(0.0, [x for x in ph if x.phase == "address"][0])]
        rows += [(0.6 * (x.u - 0.4), x) for x in ph if x.phase == "back" and x.u > 0.5]
        return rows + [(0.36, [x for x in ph if x.phase == "catch"][0])]
    if mode == "return":
        ph = body.phases["lead"]
        rows = [(0.0, [x for x in ph if x.phase == "catch"][0])]
        rows += [(0.9 * x.u, x) for x in ph if x.phase == "return"]
        return rows + [(0.9, [x for x in ph if x.phase == "address"][0])]
    ph = body.phases[mode]
    rows = [(SWING_TIME[round(x.u, 2)], x) for x in ph]
    if mode == "swing2":
        rows.insert(0, (0.0, body.phases["swing"][0]))
    return rows


def at(body, rows, t):
    """The pose of a sequence at time t; held at its ends."""
    if t <= rows[0][0]:
        return rows[0][1].copy()
    for (t0, a), (t1, b) in zip(rows, rows[1:]):
        if t <= t1:
            return blend(body, a, b, (t - t0) / (t1 - t0))
    return rows[-1][1].copy()


class Moment:
    """kind, and pose(dt): the player dt seconds after the moment (None: nobody).
    rate: how fast its sequence runs, 0 when still."""

    def __init__(self, kind, body, rows=None, t=0.0, rate=0.0, change=None, place=None, sway=0.004, seed=0):
        self.kind, self.body, self.rows, self.t, self.rate = kind, body, rows, t, rate
        self.change, self.place, self.sway = change, place, sway
        r = np.random.default_rng(seed)
        self.phase, self.freq = r.uniform(0, 6.28, 3), r.uniform(0.2, 0.6, 3)

    def pose(self, dt):
        if self.kind == "nobody":
            return None
        p = at(self.body, self.rows, self.t + self.rate * dt)
        if self.change is not None and p.hands is not None:
            p = self.change(p)
        d = self.sway * np.sin(self.phase + 6.28 * self.freq * dt)
        d[2] *= 0.2
        if self.place is not None:
            r, move, speed = self.place
            return p.moved(r, move + speed * dt + d)
        return p.moved(np.eye(3), d)


def tilt(frame, elevation, line, toe):
    """A club frame with its shaft raised (rad), its line turned from above (rad, + inside,
    seen at the level shaft that points back) and the face turned about the shaft (rad)."""
    s = frame[:, 0]
    flat = np.array([s[0], s[1], 0.0])
    axis = np.cross(flat, [0, 0, 1.0]) if np.linalg.norm(flat) > 0.15 else np.array([0, 1.0, 0])
    r = turn([0, 0, 1.0], -line) @ turn(axis, elevation)
    return r @ turn(s, toe) @ frame


def grounded(body, club, clearance=0.02):
    """A change of pose after which a club of another length does not go through the ground:
    the shaft is raised just so much that its head point stays above it."""
    def change(p, exact=False):
        low = p.hands[2] + club.hands_to_head * p.shaft[2]
        if low >= clearance and not exact:
            return p
        want = (clearance - p.hands[2]) / club.hands_to_head
        want = max(-0.98, min(0.98, want))
        now = math.asin(max(-1, min(1, p.shaft[2])))
        axis = np.cross(p.shaft, [0, 0, 1.0])
        if np.linalg.norm(axis) < 1e-3:
            return p
        r = turn(axis, math.asin(want) - now)
        return regrip(body, p, p.hands, r @ p.frame())
    return change


def pick(r, body, club):
    """One random moment of practice with this body and club."""
    u, seed = r.uniform, int(r.integers(1 << 31))
    ground = grounded(body, club)
    kind = r.choice(["address", "waggle", "leaving", "forward", "back", "hold", "swing", "return", "off", "nobody"],
                    p=[0.06, 0.04, 0.12, 0.04, 0.14, 0.24, 0.25, 0.03, 0.06, 0.02])
    mode = r.choice(["lead", "both"], p=[0.6, 0.4])
    rate = float(np.exp(r.normal(0.0, 0.35)))
    jitter = lambda p: regrip(body, p, p.hands + wander, tilt(p.frame(), *bend))
    wander, bend = r.normal(0, 0.012, 3), (r.normal(0, 0.03), r.normal(0, 0.03), r.normal(0, 0.06))
    if kind == "address":
        on = r.random() < 0.75
        return Moment(kind, body, sequence(body, mode)[:1], change=lambda p: ground(jitter(p), exact=on), seed=seed)
    if kind == "waggle":
        rows = [(0.0, body.phases["both"][0]), (0.35, [x for x in body.phases["off"] if x.phase == "waggle"][int(r.integers(2))])]
        return Moment(kind, body, rows, u(0, 0.35), rate * r.choice([-1, 1]), lambda p: ground(jitter(p)), seed=seed)
    if kind == "leaving":   # the head's first and last centimetres by the ball
        way, lo, hi = [("direct", 0.0, 0.16), ("swing", 0.0, 0.25), (mode, 0.0, 0.25), (mode, 0.55, 0.9)][int(r.choice(4, p=[0.35, 0.35, 0.12, 0.18]))]
        rows = sequence(body, way)
        first = rows[0][1]
        tip = lambda p: p.hands + club.hands_to_head * p.shaft
        for _ in range(20):
            t = u(lo, hi)
            if np.linalg.norm(tip(at(body, rows, t)) - tip(first)) < 0.3:
                break

        def change(p):
            rise = max(0.0, tip(p)[2] - tip(first)[2])
            return grounded(body, club, 0.015 + rise)(jitter(p), exact=True)
        return Moment(kind, body, rows, t, rate * u(0.3, 1.4), change, seed=seed)
    if kind in ("forward", "back", "return"):
        rows = sequence(body, "return" if kind == "return" else ("direct" if kind == "back" and r.random() < 0.3 else mode))
        lo, hi = rows[0][0], rows[-1][0]
        t = u(lo, hi) if kind == "return" else (u(0.05, 0.5) if kind == "forward" else u(0.5, 1.09))
        if hi < 0.5:
            t = u(0.0, hi)
        slow = r.random() < 0.25
        speed = rate * (u(0.1, 0.5) if slow else u(0.7, 1.5))
        if kind == "forward" and r.random() < 0.5:
            speed = -speed
        # the catch that this swing makes for: its changes grow with the way back
        e, line, toe = u(-0.2, 0.3), r.normal(0, 0.22), r.normal(0, 0.5)
        end, d = rows[-1][0], np.array([r.normal(0, 0.05), r.normal(0, 0.05), r.normal(0, 0.05)])

        def change(p):
            w = max(0.0, p.u if p.phase in ("back", "catch") else 0.0)
            return ground(regrip(body, p, p.hands + w * d, tilt(p.frame(), e * w, line * w, toe * w)))
        return Moment(kind, body, rows, t, speed, change, seed=seed)
    if kind == "hold":
        catch = [x for x in body.phases[mode] if x.phase == "catch"][0]
        e = r.normal(0.0, 0.08) if r.random() < 0.7 else u(-0.5, 0.5)
        line = r.normal(0, 0.13) if r.random() < 0.6 else u(-0.6, 0.6)
        d, toe = np.array([r.normal(0, 0.06), r.normal(0, 0.06), r.normal(0, 0.05)]), r.normal(0, 0.5)
        change = lambda p: regrip(body, p, p.hands + d, tilt(p.frame(), e, line, toe))
        return Moment(kind, body, [(0.0, catch)], change=change, seed=seed)
    if kind == "swing":
        rows = sequence(body, r.choice(["swing", "swing2"]))
        # nearly half about level on the way back, where a swing is read
        k = r.random()
        t = u(0, 1.7) if k < 0.3 else (u(0.3, 0.6) if k < 0.75 else u(0.3, 1.3))
        e, toe = r.normal(0, 0.1), r.normal(0, 0.3)
        line = r.normal(0, 0.12) if r.random() < 0.5 else u(-0.5, 0.5)
        d = r.normal(0, 0.035, 3)

        def change(p):
            w = max(0.2, math.exp(-((p.u - 0.24) / 0.18) ** 2))   # what differs, differs most about level
            return ground(regrip(body, p, p.hands + w * d, tilt(p.frame(), w * e, w * line, w * toe)))
        return Moment(kind, body, rows, t, 0.0 if t > 1.6 else rate, change, seed=seed)
    if kind == "nobody":
        return Moment(kind, body)
    rows = [x for x in body.phases["off"] if x.phase != "waggle"]
    p = rows[int(r.integers(len(rows)))]
    walking = p.phase == "walking"
    upright = p.phase in ("standing", "hand on hip", "club on shoulder", "walking", "looking at club", "arms hanging")
    yaw = turn([0, 0, 1.0], u(-math.pi, math.pi) if upright and r.random() < 0.7 else r.normal(0, 0.15))
    move = np.array([r.normal(0, 0.35), r.normal(0, 0.3), 0.0]) if upright else np.array([r.normal(0, 0.06), r.normal(0, 0.06), 0])
    pivot = np.array([p.p[0][0], p.p[0][1], 0])
    speed = np.array([0, -1.0, 0]) @ yaw.T * u(0, 1.2) if walking else r.normal(0, 0.08, 3) * [1, 1, 0]
    # an upright figure turns about its own place
    place = (yaw, pivot - yaw @ pivot + move, speed)
    tune = lambda q: ground(q) if q.phase not in ("looking at club",) else q
    return Moment("off", body, [(0.0, p)], change=tune, place=place, seed=seed)


def bystander(r, body):
    """Somebody else, standing or walking about: pose(dt) and how it moves."""
    rows = [x for x in body.phases["off"] if x.phase in ("standing", "hand on hip", "club on shoulder", "walking", "arms hanging", "looking at club")]
    p = rows[int(r.integers(len(rows)))] if r.random() < 0.8 else body.phases["both"][0]
    yaw = turn([0, 0, 1.0], r.uniform(-math.pi, math.pi))
    pivot = np.array([p.p[0][0], p.p[0][1], 0])
    speed = yaw @ np.array([0, -1.0, 0]) * (r.uniform(0.2, 1.4) if p.phase == "walking" else 0.0)
    return p, yaw, pivot, speed
