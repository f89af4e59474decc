"""Bodies with fewer triangles, which are drawn faster; hands and faces keep theirs.

    blender -b --factory-startup --python lighten.py -- BODIES OUT [SHARE]

Vertices that are left keep the bone weights of the nearest vertex that was there.
"""
import glob
import os
import shutil
import sys

import bpy
import numpy as np
from mathutils.kdtree import KDTree

argv = sys.argv[sys.argv.index("--") + 1:]
source, out = argv[:2]
share = float(argv[2]) if len(argv) > 2 else 0.35
os.makedirs(out, exist_ok=True)
for path in sorted(glob.glob(os.path.join(source, "*.npz"))):
    z = dict(np.load(path))
    v, t, names = z["vertices"], z["triangles"], [str(n) for n in z["bone_names"]]
    me = bpy.data.meshes.new("body")
    me.from_pydata(v.tolist(), [], t.tolist())
    for _ in range(10):
        me.materials.append(bpy.data.materials.new("part"))
    me.polygons.foreach_set("material_index", z["material"].astype(np.int32))
    o = bpy.data.objects.new("body", me)
    bpy.context.scene.collection.objects.link(o)
    fine = {i for i, n in enumerate(names) if n.startswith(("hand", "thumb", "index", "middle", "ring", "little"))}
    k = np.isin(z["bone_index"], list(fine)) & (z["bone_weight"] > 60)
    group = o.vertex_groups.new(name="coarse")
    group.add([int(i) for i in np.flatnonzero(~k.any(1))], 1.0, "REPLACE")
    m = o.modifiers.new("fewer", "DECIMATE")
    m.ratio, m.vertex_group, m.vertex_group_factor, m.use_collapse_triangulate = share, "coarse", 1.0, True
    e = o.evaluated_get(bpy.context.evaluated_depsgraph_get()).to_mesh()
    new = np.array([x.co for x in e.vertices], np.float32)
    e.calc_loop_triangles()
    tri = np.array([x.vertices for x in e.loop_triangles], np.uint16)
    part = np.array([x.material_index for x in e.loop_triangles], np.uint8)
    tree = KDTree(len(v))
    for i, c in enumerate(v):
        tree.insert(c, i)
    tree.balance()
    near = np.array([tree.find(c)[1] for c in new.astype(float).tolist()])
    z.update(vertices=new, triangles=tri, material=part, bone_index=z["bone_index"][near], bone_weight=z["bone_weight"][near])
    np.savez_compressed(os.path.join(out, os.path.basename(path)), **z)
    print(os.path.basename(path), len(v), len(t), "->", len(new), len(tri), flush=True)
    bpy.data.objects.remove(o)
for f in glob.glob(os.path.join(source, "*.json")):
    shutil.copy(f, out)
