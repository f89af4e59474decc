"""What stands about the player in a drawn bay: floor, mats, nets, walls, lamps, things;
and the materials of bay, clothes and clubs. Used by scene.py inside Blender."""
import math
import sys

import bpy
import numpy as np

from colours import look as colour


def setup(size, samples, cuda, part):
    """An empty scene that renders small pictures quickly; returns it."""
    for o in list(bpy.data.objects):
        bpy.data.objects.remove(o)
    sc = bpy.context.scene
    sc.render.engine = "CYCLES"
    sc.render.resolution_x = sc.render.resolution_y = size
    sc.render.resolution_percentage = 100
    sc.render.image_settings.file_format, sc.render.image_settings.quality = "JPEG", 92
    sc.render.use_persistent_data = True
    sc.render.use_compositing = sc.render.use_sequencer = False
    sc.render.use_motion_blur, sc.render.motion_blur_shutter = True, 2.0
    sc.frame_start, sc.frame_end = 0, 2
    for p in sc.render.bl_rna.properties:
        if p.identifier.startswith("use_stamp"):
            setattr(sc.render, p.identifier, False)
    cy = sc.cycles
    cy.samples, cy.use_adaptive_sampling, cy.use_denoising, cy.use_auto_tile = samples, False, False, False
    cy.max_bounces, cy.diffuse_bounces, cy.glossy_bounces, cy.transparent_max_bounces, cy.transmission_bounces = 3, 2, 2, 6, 0
    cy.caustics_reflective = cy.caustics_refractive = False
    cy.sample_clamp_indirect = 3.0
    cy.motion_blur_position = "CENTER"
    if cuda:
        pr = bpy.context.preferences.addons["cycles"].preferences
        pr.compute_device_type = "CUDA"
        pr.get_devices()
        cards = [d for d in pr.devices if d.type == "CUDA"]
        if not cards:
            sys.exit("no CUDA card")
        for d in pr.devices:
            d.use = False
        cards[part % len(cards)].use = True
        cy.device = "GPU"
    return sc


def brightness(path):
    """The mean level of a picture, 0..1, as displayed."""
    im = bpy.data.images.load(path)
    a = np.empty(len(im.pixels), np.float32)
    im.pixels.foreach_get(a)
    bpy.data.images.remove(im)
    return float(a.reshape(-1, 4)[:, :3].mean())


def mesh_object(name, vertices, faces, material, smooth=False):
    me = bpy.data.meshes.new(name)
    me.from_pydata(np.asarray(vertices).tolist(), [], faces)
    me.materials.append(material)
    me.polygons.foreach_set("use_smooth", np.full(len(faces), smooth))
    o = bpy.data.objects.new(name, me)
    bpy.context.scene.collection.objects.link(o)
    return o


class Surface:
    """A material whose pattern, colours and gloss are set by numbers alone, so that a new
    scene needs no new shader. `coordinates`: Object, Generated, or an attribute's name."""

    def __init__(self, name, coordinates="Object", net=False):
        m = bpy.data.materials.new(name)
        m.use_nodes = True
        t = m.node_tree
        n, link = t.nodes, t.links.new
        self.material, self.shader = m, n["Principled BSDF"]
        if coordinates in ("Object", "Generated"):
            src = n.new("ShaderNodeTexCoord").outputs[coordinates]
        else:
            a = n.new("ShaderNodeAttribute")
            a.attribute_name = coordinates
            src = a.outputs["Vector"]
        self.map = n.new("ShaderNodeMapping")
        link(src, self.map.inputs["Vector"])
        v = self.map.outputs["Vector"]
        self.noise = n.new("ShaderNodeTexNoise")
        self.noise.inputs["Detail"].default_value = 4
        self.brick = n.new("ShaderNodeTexBrick")
        self.brick.offset = 0.5
        self.wave = n.new("ShaderNodeTexWave")
        self.check = n.new("ShaderNodeTexChecker")
        for x in (self.noise, self.brick, self.wave, self.check):
            link(v, x.inputs["Vector"])
        self.brick.inputs["Color1"].default_value = (1, 1, 1, 1)
        self.brick.inputs["Color2"].default_value = (0.7, 0.7, 0.7, 1)
        self.brick.inputs["Mortar"].default_value = (0, 0, 0, 1)
        self.check.inputs["Color1"].default_value, self.check.inputs["Color2"].default_value = (0, 0, 0, 1), (1, 1, 1, 1)
        outs = [self.noise.outputs["Fac"], self.brick.outputs["Color"], self.wave.outputs["Fac"], self.check.outputs["Fac"]]
        self.weights, total = [], None
        for o in outs:
            k = n.new("ShaderNodeMath")
            k.operation = "MULTIPLY"
            link(o, k.inputs[0])
            self.weights.append(k.inputs[1])
            if total is None:
                total = k.outputs[0]
            else:
                s = n.new("ShaderNodeMath")
                s.operation = "ADD"
                link(total, s.inputs[0])
                link(k.outputs[0], s.inputs[1])
                total = s.outputs[0]
        self.mix = n.new("ShaderNodeMixRGB")
        link(total, self.mix.inputs["Fac"])
        link(self.mix.outputs["Color"], self.shader.inputs["Base Color"])
        self.bump = n.new("ShaderNodeBump")
        self.bump.inputs["Distance"].default_value = 0.02
        self.fold = n.new("ShaderNodeTexNoise")
        self.fold.inputs["Detail"].default_value = 2
        link(src, self.fold.inputs["Vector"])
        link(self.fold.outputs["Fac"], self.bump.inputs["Height"])
        link(self.bump.outputs["Normal"], self.shader.inputs["Normal"])
        if net:   # threads of a grid, nothing between
            self.brick.offset = 0.0
            hole = n.new("ShaderNodeBsdfTransparent")
            mix = n.new("ShaderNodeMixShader")
            link(self.brick.outputs["Fac"], mix.inputs[0])
            link(hole.outputs[0], mix.inputs[1])
            link(self.shader.outputs[0], mix.inputs[2])
            link(mix.outputs[0], n["Material Output"].inputs["Surface"])
            self.brick.inputs["Scale"].default_value = 1
        self.set([0.5] * 3, [0.5] * 3)

    def set(self, a, b, kind=0, scale=1.0, rough=0.7, metal=0.0, bump=0.0, turned=(0, 0, 0), fold=6.0, contrast=1.0):
        """kind: 0 noise, 1 bricks or tiles, 2 stripes, 3 squares."""
        c = lambda v: tuple(float(x) for x in np.clip(v, 0, 1)) + (1,)
        self.mix.inputs["Color1"].default_value, self.mix.inputs["Color2"].default_value = c(a), c(b)
        for i, w in enumerate(self.weights):
            w.default_value = contrast if i == kind else 0.0
        self.map.inputs["Scale"].default_value = (scale,) * 3
        self.map.inputs["Rotation"].default_value = turned
        self.shader.inputs["Roughness"].default_value = rough
        self.shader.inputs["Metallic"].default_value = metal
        self.bump.inputs["Strength"].default_value = bump
        self.fold.inputs["Scale"].default_value = fold

    def random(self, r, colour, low=0.4, high=6.0):
        u = r.uniform
        a = colour(r, "cloth")
        b = a * u(0.5, 1.4) if r.random() < 0.6 else colour(r, "cloth")
        kind = int(r.choice([0, 1, 2, 3], p=[0.5, 0.25, 0.15, 0.1]))
        self.set(a, b, kind, math.exp(u(math.log(low), math.log(high))), u(0.2, 1), 0.0, u(0, 0.4) if r.random() < 0.5 else 0.0,
                 tuple(u(0, 3, 3)) if r.random() < 0.3 else (0, 0, float(r.choice([0, 1.5708]))))

    def club(self, r, part, look):
        u = r.uniform
        g = lambda v: np.full(3, v) * (1 + r.normal(0, 0.02, 3))
        if part == "shaft":
            if look == "steel":
                a, rough, metal = g(u(0.5, 0.85)), u(0.08, 0.45), 1.0
            elif look in ("graphite", "black"):
                a, rough, metal = g(u(0.01, 0.12 if look == "graphite" else 0.03)), u(0.15, 0.6), u(0, 0.3)
            elif look == "white":
                a, rough, metal = g(u(0.6, 0.9)), u(0.15, 0.6), 0.0
            else:
                a, rough, metal = u(0.02, 0.7, 3), u(0.15, 0.5), 0.0
        elif part == "grip":
            a, rough, metal = (g(u(0.005, 0.05)) if r.random() < 0.7 else u(0.02, 0.8, 3)), u(0.5, 0.9), 0.0
        elif part == "ferrule":
            a, rough, metal = (g(u(0.005, 0.04)) if r.random() < 0.8 else u(0.02, 0.8, 3)), 0.3, 0.0
        elif part == "tape":
            a, rough, metal = np.array([[0.9, 0.2, 0.02], [0.9, 0.75, 0.05], [0.1, 0.8, 0.2], [0.85, 0.85, 0.85], [0.8, 0.05, 0.3], [0.05, 0.3, 0.9]][int(r.integers(6))]) * u(0.6, 1.1), 0.7, 0.0
        else:
            a, rough, metal = (g(u(0.4, 0.85)), u(0.1, 0.5), 1.0) if r.random() < 0.55 else ((g(u(0.01, 0.06)), u(0.15, 0.5), u(0, 1)) if r.random() < 0.75 else (u(0.02, 0.85, 3), u(0.15, 0.5), 0.0))
        self.set(a, a * u(0.7, 1), 0, 30, rough, metal)


class Dress:
    """The ten materials of a dressed body (see the bodies' README), shared by all figures of a role."""
    PARTS = ["skin", "glove", "shirt", "trousers", "shoe", "sole", "hair", "sock", "cap", "eye"]

    def __init__(self, role):
        self.part = {n: Surface(role + " " + n, "rest") for n in self.PARTS}
        self.slots = [self.part[n].material for n in self.PARTS]

    def random(self, r, colour, dark=False):
        """Dresses the figures anew; `dark`: shirt and trousers are nearly black."""
        u = r.uniform
        skin = colour(r, "skin")
        self.part["skin"].set(skin, skin * u(0.85, 1), 0, 20, u(0.35, 0.65))
        glove = skin if r.random() < 0.4 else (np.full(3, u(0.6, 0.9)) if r.random() < 0.7 else colour(r, "cloth"))
        self.part["glove"].set(glove, glove * 0.9, 0, 20, 0.6)
        for n in ("shirt", "trousers", "cap", "sock", "shoe"):
            a = colour(r, "cloth")
            plain = r.random() < (0.55 if n == "shirt" else 0.8)
            b = a * u(0.85, 1.1) if plain else colour(r, "cloth")
            if dark and n in ("shirt", "trousers"):
                k = u(0.008, 0.06)
                a, b = (c * k / max(c.max(), 1e-3) for c in (a, b))
            kind = 0 if plain else int(r.choice([0, 2, 3, 1], p=[0.25, 0.45, 0.15, 0.15]))
            scale = u(1.5, 8) if kind != 1 else u(1, 4)
            self.part[n].set(a, b, kind, scale, u(0.6, 1), 0, u(0.2, 1.0), tuple(r.choice([0, 1.5708], 3)) if kind else (0, 0, 0), u(4, 14))
        hair = colour(r, "hair")
        self.part["hair"].set(hair, hair * u(0.5, 1), 0, 40, 0.5, 0, 0.5, fold=40)
        self.part["sole"].set(np.full(3, u(0.02, 0.8)), np.full(3, 0.3), 0, 5)
        self.part["eye"].set([0.6] * 3, [0.5] * 3)


class Bay:
    """Everything about the player; random() lays it out anew for a scene."""

    def __init__(self, sc, worlds):
        self.scene = sc
        plane = ([(-0.5, -0.5, 0), (0.5, -0.5, 0), (0.5, 0.5, 0), (-0.5, 0.5, 0)], [(0, 1, 2, 3)])
        cube = ([(x, y, z) for z in (0, 1) for x, y in ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5))],
                [(3, 2, 1, 0), (4, 5, 6, 7), (0, 1, 5, 4), (1, 2, 6, 5), (2, 3, 7, 6), (3, 0, 4, 7)])
        a = np.arange(14) * 2 * math.pi / 14
        ring = np.stack([np.cos(a) / 2, np.sin(a) / 2, 0 * a], 1)
        tube = (np.concatenate([ring, ring + [0, 0, 1]]), [(i, (i + 1) % 14, 14 + (i + 1) % 14, 14 + i) for i in range(14)] + [tuple(range(14, 28))])
        ball_v = [(math.sin(math.pi * j / 8) * math.cos(2 * math.pi * i / 12), math.sin(math.pi * j / 8) * math.sin(2 * math.pi * i / 12), math.cos(math.pi * j / 8)) for j in range(9) for i in range(12)]
        ball_f = [(j * 12 + i, j * 12 + (i + 1) % 12, (j + 1) * 12 + (i + 1) % 12, (j + 1) * 12 + i) for j in range(8) for i in range(12)]
        self.surfaces = [Surface("surface %d" % i, "Object") for i in range(10)]
        self.floor = mesh_object("floor", *plane, self.surfaces[0].material)
        self.mats = [mesh_object("mat %d" % i, *cube, self.surfaces[1 + i].material) for i in range(2)]
        self.walls = [mesh_object("wall %d" % i, *plane, self.surfaces[3 + i % 3].material) for i in range(5)]
        self.net_surface = Surface("net", "Object", net=True)
        self.nets = [mesh_object("net %d" % i, *plane, self.net_surface.material) for i in range(2)]
        for o in self.walls + self.nets:   # the world's light comes in as if from many lamps: less noise
            o.visible_shadow = o.visible_diffuse = False
        pick = lambda i: self.surfaces[6 + i % 4].material
        self.things = [mesh_object("box %d" % i, *cube, pick(i)) for i in range(10)] + [mesh_object("tube %d" % i, *tube, pick(i + 1), True) for i in range(12)]
        self.rods = [mesh_object("rod %d" % i, *tube, pick(i), True) for i in range(8)]
        white = Surface("ball")
        white.set([0.8] * 3, [0.75] * 3, 0, 30, 0.35)
        self.ball_surface = white
        self.ball = mesh_object("the ball", ball_v, ball_f, white.material, True)
        self.balls = [mesh_object("ball %d" % i, ball_v, ball_f, white.material, True) for i in range(8)]
        self.tee = mesh_object("tee", *tube, self.surfaces[9].material)
        glow = bpy.data.materials.new("glow")
        glow.use_nodes = True
        self.emission = glow.node_tree.nodes.new("ShaderNodeEmission")
        glow.node_tree.links.new(self.emission.outputs[0], glow.node_tree.nodes["Material Output"].inputs["Surface"])
        self.panes = [mesh_object("pane %d" % i, *plane, glow) for i in range(4)]
        self.lamps = []
        for i in range(3):
            d = bpy.data.lights.new("lamp %d" % i, "AREA")
            o = bpy.data.objects.new("lamp %d" % i, d)
            sc.collection.objects.link(o)
            self.lamps.append(o)
        d = bpy.data.lights.new("sun", "SUN")
        self.sun = bpy.data.objects.new("sun", d)
        sc.collection.objects.link(self.sun)
        w = bpy.data.worlds.new("world")
        sc.world = w
        w.use_nodes = True
        n, link = w.node_tree.nodes, w.node_tree.links.new
        self.background = n["Background"]
        self.image = n.new("ShaderNodeTexEnvironment")
        self.world_map = n.new("ShaderNodeMapping")
        link(n.new("ShaderNodeTexCoord").outputs["Generated"], self.world_map.inputs["Vector"])
        link(self.world_map.outputs["Vector"], self.image.inputs["Vector"])
        self.world_links = w.node_tree.links
        self.photograph(True)
        w.cycles.sampling_method, w.cycles.sample_map_resolution = "MANUAL", 128
        self.images = {k: bpy.data.images.load(f) for k, f in worlds.items()}
        for im in self.images.values():
            im.pack()

    def photograph(self, on):
        """Lights the world by its photograph, or evenly."""
        colour = self.background.inputs["Color"]
        for old in list(colour.links):
            self.world_links.remove(old)
        if on:
            self.world_links.new(self.image.outputs["Color"], colour)

    def random(self, r, held, held_worlds, view, camera, ball, capsules=False):
        """Lays the bay out; returns what was chosen. Among `capsules` light is often as plain as they are:
        from everywhere, in one colour, or straight from lamps with no light thrown back."""
        u = r.uniform
        for o in [*self.mats, *self.walls, *self.nets, *self.things, *self.rods, *self.balls, *self.panes, self.ball, self.tee, *self.lamps, self.sun]:
            o.hide_render = o.hide_viewport = True
        show = lambda o: (setattr(o, "hide_render", False), setattr(o, "hide_viewport", False))
        for s in self.surfaces:
            s.random(r, colour)
        names = [n for n in sorted(self.images) if (n in held_worlds) == held]
        name = names[int(r.integers(len(names)))]
        self.image.image = self.images[name]
        self.world_map.inputs["Rotation"].default_value = (0, 0, u(0, 6.28))
        even = capsules and r.random() < 0.35
        self.photograph(not even)
        tint = u(0.5, 1.0) * (1 + r.normal(0, 0.06, 3))
        self.background.inputs["Color"].default_value = (*(float(v) for v in tint), 1)
        self.scene.cycles.max_bounces = 0 if even and r.random() < 0.5 else 3
        indoor = r.random() < 0.62
        dark = r.random() < 0.15
        self.background.inputs["Strength"].default_value = u(0.25, 1.3) * (0.35 if dark else 1)
        self.scene.view_settings.view_transform = "Filmic" if r.random() < 0.5 else "Standard"
        self.scene.view_settings.exposure = r.normal(0.2, 0.5) + (-0.6 if dark else 0)
        # the room: about the player and the camera
        lo = np.minimum(camera[:2], [-1.6, -1.6]) - u(0.4, 3.0, 2)
        hi = np.maximum(camera[:2], [1.6, 1.9]) + u(0.4, 5.0, 2)
        top = u(2.5, 4.5)
        self.floor.location, self.floor.scale = (0, 0, -0.012), (60, 60, 1)
        if r.random() < 0.85:
            show(self.mats[0])
            w, l = u(1.2, 2.2), u(1.2, 3.5)
            self.mats[0].location, self.mats[0].scale = (u(-0.3, 0.4), u(0.1, 0.6), -0.011), (l, w, 0.011)
            g = np.array([0.02, 0.13, 0.03]) * u(0.4, 2.5) * (1 + r.normal(0, 0.15, 3)) if r.random() < 0.6 else colour(r, "cloth")
            self.surfaces[1].set(g, g * u(0.6, 1.2), 0, u(3, 60), 0.95, 0, u(0, 0.5), fold=80)
            if r.random() < 0.4:
                show(self.mats[1])
                self.mats[1].location, self.mats[1].scale = (u(-0.2, 0.3), u(-0.15, 0.15), -0.005), (u(0.4, 1.5), u(0.25, 0.5), 0.006)
        spots = [((hi[0], 0, top / 2), (math.pi / 2, 0, math.pi / 2), (24, top)), ((lo[0], 0, top / 2), (math.pi / 2, 0, -math.pi / 2), (24, top)),
                 ((0, hi[1], top / 2), (math.pi / 2, 0, 0), (24, top)), ((0, lo[1], top / 2), (math.pi / 2, 0, math.pi), (24, top)),
                 ((0, 0, top), (math.pi, 0, 0), (24, 24))]
        for i, (o, (at, turned, size)) in enumerate(zip(self.walls, spots)):
            if r.random() < (0.9 if indoor else 0.22) and not (not indoor and i == 4):
                show(o)
                o.location, o.rotation_euler, o.scale = at, turned, (*size, 1)
        if r.random() < 0.6:
            c = colour(r, "cloth") if r.random() < 0.4 else np.full(3, u(0.005, 0.6))
            self.net_surface.set(c, c, 1, 1, 0.8)
            size = u(0.02, 0.06)
            self.net_surface.map.inputs["Scale"].default_value = (1 / size,) * 3
            k = self.net_surface.brick.inputs
            k["Brick Width"].default_value = k["Row Height"].default_value = 1.0
            k["Mortar Size"].default_value = u(0.04, 0.2)
            k["Mortar Smooth"].default_value = 0.3
            show(self.nets[0])
            self.nets[0].location, self.nets[0].rotation_euler, self.nets[0].scale = (min(hi[0] - 0.2, u(2.0, 5.0)), 0, 1.4), (math.pi / 2, 0, math.pi / 2), (5, 2.8, 1)
            if r.random() < 0.5:
                show(self.nets[1])
                self.nets[1].location, self.nets[1].rotation_euler, self.nets[1].scale = (0, min(hi[1] - 0.1, u(1.9, 3.5)), 1.4), (math.pi / 2, 0, 0), (6, 2.8, 1)
        # things stand about, none in the way of the picture
        sight = np.array([0, 0.5]) - camera[:2]
        length = np.linalg.norm(sight)
        sight /= length

        def free(p, gap):
            d = p - camera[:2]
            along, across = d @ sight, abs(d[0] * sight[1] - d[1] * sight[0])
            return not (-0.3 < along < length + 0.6 and across < gap) and np.linalg.norm(p - [0, 0.7]) > 1.15
        for o in self.things:
            if r.random() < 0.4:
                p = np.array([u(-4, 7), u(-5, 6)])
                if r.random() < 0.6:   # behind the player as the camera sees it
                    p = camera[:2] + sight * (length + u(1.0, 5.0)) + np.array([-sight[1], sight[0]]) * r.normal(0, 1.6)
                if free(p, 1.3):
                    show(o)
                    w = math.exp(u(math.log(0.08), math.log(0.9)))
                    o.location, o.rotation_euler = (*p, u(0, 1) if r.random() < 0.15 else 0.0), (r.normal(0, 0.1), r.normal(0, 0.1), u(0, 3))
                    o.scale = (w, w * u(0.4, 1.2), math.exp(u(math.log(0.15), math.log(1.8))))
        for o in self.rods:   # sticks on the ground, posts, shafts that are nobody's
            if r.random() < 0.4:
                show(o)
                d = u(0.006, 0.03)
                if r.random() < 0.55:
                    a = r.normal(0, 0.08) if r.random() < 0.6 else u(0, 3.1)
                    y = u(-0.6, 0.5) if r.random() < 0.7 else u(-1, 2)
                    o.location, o.rotation_euler, o.scale = (u(-1.5, 0.8), y, d), (0, math.pi / 2, a), (d, d, u(0.9, 1.3))
                else:
                    p = camera[:2] + sight * (length + u(0.9, 4.0)) + np.array([-sight[1], sight[0]]) * r.normal(0, 1.3)
                    o.location, o.rotation_euler, o.scale = (*p, 0), (r.normal(0, 0.25), r.normal(0, 0.25), 0), (d, d, u(0.8, 2.6))
                    if not free(p, 1.0):
                        o.hide_render = o.hide_viewport = True
        c = [0.8] * 3 if r.random() < 0.85 else np.array([[0.8, 0.75, 0.05], [0.9, 0.3, 0.05], [0.8, 0.2, 0.4]][int(r.integers(3))])
        self.ball_surface.set(c, c, 0, 30, 0.35)
        if ball is not None:
            show(self.ball)
            self.ball.location, self.ball.scale = ball, (0.0214,) * 3
            if ball[2] > 0.03:
                show(self.tee)
                self.tee.location, self.tee.scale = (ball[0], ball[1], 0), (0.008, 0.008, ball[2] - 0.02)
        if r.random() < 0.3:
            p = np.array([u(-1.2, 1.2), u(-1.4, -0.5)])
            for o in self.balls:
                show(o)
                o.location, o.scale = (*(p + r.normal(0, 0.12, 2)), 0.0214), (0.0214,) * 3
        level = (0.3 if dark else 1.0) * math.exp(u(math.log(0.5), math.log(1.6)))
        warm = u(0.55, 1.0)
        for o in self.lamps:
            if indoor or r.random() < 0.3:
                show(o)
                o.location = (u(lo[0] * 0.7, hi[0] * 0.7), u(lo[1] * 0.7, hi[1] * 0.7), top - 0.1 if r.random() < 0.8 else u(1.2, 2.4))
                o.rotation_euler = (r.normal(0, 0.4), r.normal(0, 0.4), 0)
                o.data.size, o.data.energy = u(0.2, 2.0), level * u(30, 260)
                o.data.color = (1, u(0.85, 1) * (0.6 + 0.4 * warm), warm)
        if not indoor and r.random() < 0.7:
            show(self.sun)
            self.sun.rotation_euler = (u(-1.2, 1.2), u(-1.2, 1.2), 0)
            self.sun.data.energy, self.sun.data.angle = level * u(0.8, 4), u(0.01, 0.2)
        for o in self.panes:
            if r.random() < (0.35 if indoor else 0.05):
                show(o)
                p = [hi[0] - 0.02, u(-3, 3)] if r.random() < 0.6 else [u(-2, 3), hi[1] - 0.02]
                o.location = (*p, u(1.0, 2.2))
                o.rotation_euler = (math.pi / 2, 0, math.pi / 2 if p[0] > hi[0] - 0.1 else 0)
                o.scale = (u(0.3, 2.0), u(0.3, 1.5), 1)
        self.emission.inputs["Strength"].default_value = u(0.4, 6) * (0.4 if dark else 1)
        self.emission.inputs["Color"].default_value = (1, u(0.8, 1), u(0.7, 1), 1)
        return {"world": name, "indoor": indoor, "dark": dark}
