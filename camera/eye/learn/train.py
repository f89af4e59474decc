"""Teaches the eye on pictures of scene.py (and more folders of the same form).

    train.py --data DIR[,DIR...] --out DIR [--start trunk.npz | state.pt | nothing] [--minutes 10]
             [--batch 192] [--rate 2e-3] [--cards 0,1] [--freeze 0.2] [--grow 60]

One process a card; each holds its share of the scenes. With --grow it takes up scenes that
are still being drawn, so many seconds apart. Ends with the tables of evaluate.py
on the scenes kept out of each folder and on those of --look, which are never learnt from,
and writes OUT/state.pt (running mean of the weights) and OUT/log.txt.
"""
import argparse
import copy
import math
import os
import threading
import time

import numpy as np
import torch
import torch.distributed as dist
import torch.nn.functional as F

import augment
import data as pictures
import evaluate
from model import DETAILS, K, STRIDE, Eye, places

# How much each keypoint counts: the club's most.
WEIGHT = [1.0, 2.5, 1.5, 2.5] + [0.7] * 14 + [0.5]


def loss(net, features, maps, absent, xy, state, window=2):
    """Negative log-likelihood of where the keypoints are, and of whether they are seen.

    The place is a mixture over cells: chance of the cell times a Gaussian about it. Only
    cells near the truth are summed (a lower bound of the likelihood), so that far cells
    learn nothing but their own chance."""
    b, k, h, w = maps.shape
    logp = F.log_softmax(torch.cat([maps.flatten(2).float(), absent.float()[..., None]], 2), 2)
    weight = torch.tensor(WEIGHT, device=maps.device)[None]
    known = (state >= 0).float()
    here = (state > 0).float()
    gone = -(logp[..., -1]) * (state == 0).float()
    t = (xy / STRIDE).clamp(0, w - 1e-3)
    bx, by = t[..., 0].long(), t[..., 1].long()
    d = torch.arange(-window, window + 1, device=maps.device)
    n = len(d)
    ys = (by[..., None, None] + d[:, None]).expand(b, k, n, n).reshape(b, k, -1)
    xs = (bx[..., None, None] + d[None, :]).expand(b, k, n, n).reshape(b, k, -1)
    ok = (ys >= 0) & (ys < h) & (xs >= 0) & (xs < w)
    cells = ys.clamp(0, h - 1) * w + xs.clamp(0, w - 1)
    lp = logp[..., :-1].gather(2, cells).masked_fill(~ok, -1e4)
    c = features.shape[1]
    at = features.float().flatten(2).gather(2, cells.flatten(1)[:, None].expand(b, c, -1)).view(b, c, k, -1)
    raw = torch.einsum("bckn,kdc->bknd", at, net.details.weight.view(k, DETAILS, c)) + net.details.bias.view(k, 1, DETAILS)
    offset, chol, seen = places(raw)
    mid = torch.stack([xs + 0.5, ys + 0.5], -1)
    e = t[:, :, None] - mid - offset
    l11, l21, l22 = chol.unbind(-1)
    a = e[..., 0] / l11
    z = (e[..., 1] - l21 * a) / l22
    logn = -0.5 * (a * a + z * z).clamp(max=1e3) - torch.log(l11) - torch.log(l22) - math.log(2 * math.pi)
    near = -torch.logsumexp(lp + logn, 2)
    r2 = (t[:, :, None] - mid).pow(2).sum(-1)
    soft = torch.exp(-r2 / (2 * 0.6 ** 2)) * ok
    soft = soft / soft.sum(2, keepdim=True).clamp(min=1e-6)
    cross = -(soft * lp.clamp(min=-50)).sum(2)
    is_seen = (state == 2).float()
    bce = F.binary_cross_entropy_with_logits(seen, is_seen[..., None].expand_as(seen), reduction="none")
    bce = (bce * soft).sum(2)
    place_weight = torch.where(state == 2, 1.0, 0.25) * here
    total = (weight * known * (gone + place_weight * (near.clamp(max=60) + 0.4 * cross) + 0.3 * here * bce)).sum()
    return total / (weight * known).sum().clamp(min=1)


# What is looked at more: holds and moments rather than addresses and empty bays; the few drawn bays.
ODDS = {"nobody": 0.7, "address": 0.6, "hold": 1.4, "swing": 1.3}


class Shelf:
    """Pictures to learn from, as a list of `Pictures` that may grow while they are learnt."""

    def __init__(self, a, rank, many, dev):
        self.a, self.rank, self.many, self.dev = a, rank, many, dev
        self.parts, self.known, self.held = [], set(), []
        self.take()

    def take(self):
        """Takes up the scenes that are new in the folders."""
        new = []
        for folder in self.a.data.split(","):
            for s in pictures.rows(folder):
                if (folder, s["scene"]) in self.known:
                    continue
                self.known.add((folder, s["scene"]))
                s["folder"], s["set"] = folder, os.path.basename(os.path.normpath(folder))
                (self.held if s["held"] else new).append(s)
        mine = new[self.rank::self.many]
        if not mine:
            return
        p = pictures.Pictures(mine, "", self.dev, self.a.threads, seed=self.rank)
        odds = np.array([ODDS.get(m["kind"], 1.0) * (0.6 if m["name"].startswith("before") else 1.0)
                         * (2.0 if m["set"].startswith("drawn") else 1.0) for m in p.meta])
        self.parts.append((p, odds.sum(), torch.from_numpy(np.cumsum(odds / odds.sum())).to(self.dev)))

    def grow(self):
        while True:
            time.sleep(self.a.grow)
            try:
                self.take()
            except OSError as e:   # a picture that is not whole yet
                print("not taken up:", e, flush=True)

    def pick(self, r, n, g):
        """A part by its weight, and n of its pictures by theirs."""
        parts = list(self.parts)
        w = np.array([x[1] for x in parts])
        p, _, odds = parts[int(r.choice(len(parts), p=w / w.sum()))]
        i = torch.searchsorted(odds, torch.rand(n, device=self.dev, dtype=torch.float64, generator=g))
        return p, i.clamp(max=len(p) - 1)

    def __len__(self):
        return sum(len(x[0]) for x in self.parts)


def learn(rank, cards, a):
    dev = torch.device("cuda:%d" % cards[rank] if cards[0] >= 0 else "cpu")
    many = len(cards) > 1
    if many:
        torch.cuda.set_device(dev)
        dist.init_process_group("nccl", init_method="tcp://127.0.0.1:%d" % a.port, rank=rank, world_size=len(cards))
    lead = rank == 0
    say = lambda s: (print(s, flush=True), open(os.path.join(a.out, "log.txt"), "a").write(s + "\n")) if lead else None
    torch.manual_seed(a.seed + rank)
    torch.backends.cudnn.benchmark = True
    t0 = time.time()
    shelf = Shelf(a, rank, len(cards), dev)
    held = shelf.held[rank::len(cards)][: a.held // len(cards)]
    kept = pictures.Pictures(held, "", dev, a.threads, seed=1) if held else None
    say("loaded %d scenes, %d pictures here, %d kept out, %.0f s" % (len(shelf.known), len(shelf), len(kept) if kept else 0, time.time() - t0))
    net = Eye().to(dev)
    evaluate.start(net, a.start)
    if a.start.endswith((".npz", ".weights")):
        import backbone
        with torch.no_grad():
            first = shelf.parts[0][0]
            look = lambda: augment.batch(first, torch.randint(len(first), (min(64, len(first)),), device=dev))[0]
            backbone.renormalise(net, (look() for _ in range(4)), all=a.start.endswith(".weights"))
    net = net.to(memory_format=torch.channels_last)
    early = [net.stem] + list(net.blocks[:6])
    slow = [p for m in early for p in m.parameters()]
    ids = {id(p) for p in slow}
    fast = [p for p in net.parameters() if id(p) not in ids]
    photo = a.start not in ("nothing", "")
    opt = torch.optim.AdamW([{"params": fast, "lr": a.rate, "scale": 1.0}, {"params": slow, "lr": a.rate, "scale": 0.3 if photo else 1.0}], weight_decay=1e-4, betas=(0.9, 0.99))
    model = torch.nn.parallel.DistributedDataParallel(net, device_ids=[cards[rank]], broadcast_buffers=False) if many else net
    mean = copy.deepcopy(net).eval()
    t1, step, seen, avg, beat = time.time(), 0, 0, None, 0
    end = a.minutes * 60
    g = torch.Generator(device=dev).manual_seed(a.seed * 100 + rank)
    r = np.random.default_rng([a.seed, rank])
    if a.grow > 0:
        threading.Thread(target=shelf.grow, daemon=True).start()
    while True:
        spent = time.time() - t1
        if many:
            flag = torch.tensor([spent], device=dev)
            dist.broadcast(flag, 0)
            spent = flag.item()
        x = min(1.0, spent / end)
        if x >= 1:
            break
        rate = a.rate * min(1, (step + 1) / 200) * (0.5 * (1 + math.cos(math.pi * x)) * 0.98 + 0.02)
        for grp in opt.param_groups:
            grp["lr"] = rate * grp["scale"]
        frozen = photo and x < a.freeze
        if frozen:
            opt.param_groups[1]["lr"] = 0.0
        learnt, index = shelf.pick(r, a.batch, g)
        with torch.no_grad():
            inp, xy, state, _ = augment.batch(learnt, index)
        model.train()
        if frozen:   # the trunk's first layers stay as photographs made them
            for m in early[1:]:
                m.eval()
        with torch.autocast(dev.type, dtype=torch.bfloat16, enabled=dev.type == "cuda"):
            out = model(inp.to(memory_format=torch.channels_last))
        l = loss(net, *out, xy, state)
        opt.zero_grad(set_to_none=True)
        l.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 5.0)
        opt.step()
        step += 1
        seen += a.batch * len(cards)
        d = min(0.9995, (step + 1) / (step + 20))
        with torch.no_grad():
            torch._foreach_mul_(list(mean.parameters()), d)
            torch._foreach_add_(list(mean.parameters()), list(net.parameters()), alpha=1 - d)
            for p, q in zip(mean.buffers(), net.buffers()):
                p.copy_(q)
        if step % 20 == 0:
            v = l.item()
            avg = v if avg is None else 0.9 * avg + 0.1 * v
        if lead and time.time() - t1 > beat:
            beat += a.beat
            text = "%5.0f s, step %d, seen %d of %d, rate %.1e, loss %.3f" % (time.time() - t1, step, seen, len(shelf), rate, avg or l.item())
            if kept is not None:
                text += ", kept out: " + evaluate.brief(mean, kept, 1000)
            say(text)
            torch.save(mean.state_dict(), os.path.join(a.out, "state.pt"))
    if lead:
        torch.save(mean.state_dict(), os.path.join(a.out, "state.pt"))
        say("pictures seen %d in %d steps" % (seen, step))
        for folder in [f for f in (a.data + "," + a.look).split(",") if f]:
            some = [s for s in pictures.rows(folder) if s["held"]][: a.held]
            if some:
                say(folder + "\n" + evaluate.table(mean, pictures.Pictures(some, folder, dev, a.threads, seed=1)))
    if many:
        dist.barrier()
        dist.destroy_process_group()


def main():
    ap = argparse.ArgumentParser(usage=__doc__)
    ap.add_argument("--data", required=True)
    ap.add_argument("--look", default="", help="folders to look at in the end only")
    ap.add_argument("--out", required=True)
    ap.add_argument("--start", default="nothing")
    ap.add_argument("--minutes", type=float, default=10)
    ap.add_argument("--batch", type=int, default=192)
    ap.add_argument("--rate", type=float, default=2e-3)
    ap.add_argument("--cards", default="0", help="-1 is the processor")
    ap.add_argument("--freeze", type=float, default=0.15)
    ap.add_argument("--threads", type=int, default=14)
    ap.add_argument("--held", type=int, default=400, help="scenes kept out that the table looks at")
    ap.add_argument("--beat", type=float, default=30)
    ap.add_argument("--grow", type=float, default=0, help="seconds between looks for new scenes; 0 looks once")
    ap.add_argument("--port", type=int, default=29511)
    ap.add_argument("--seed", type=int, default=1)
    a = ap.parse_args()
    os.makedirs(a.out, exist_ok=True)
    cards = [int(c) for c in a.cards.split(",")]
    if len(cards) > 1:
        torch.multiprocessing.spawn(learn, (cards, a), nprocs=len(cards))
    else:
        learn(0, cards, a)


if __name__ == "__main__":
    main()
