"""Where liquid stays when a plant is drained (E3): liquid that runs in steps of time.

Every pipe is cut into cells along its axis, every place is a cell of its own, a vessel is one cell
over its lowest inside point. At first all of it is full. In each step of time a cell whose surface
stands above that of a neighbour runs over into it, down to the neighbour's surface or its own floor;
the outlet takes whatever reaches it. When nothing moves any more the surfaces are those that stay.
A place of unknown height never lets anything through.

Written apart from the program, which finds the same by a flood from the outlet.
"""

import math

FULL = float("inf")
CELLS = 8
TOLERANCE = 0.0005


class Pipe:
    def __init__(self, name, ends, length, bore):
        self.name, self.ends, self.length, self.bore = name, ends, length, bore


class Tank:
    """A vessel; `ports` are places."""

    def __init__(self, name, ports, shape, heads, diameter, length, bottom, volume):
        self.name, self.ports, self.shape, self.heads = name, ports, shape, heads
        self.diameter, self.length, self.bottom, self.volume = diameter, length, bottom, volume


def surfaces(places, pipes, tank, outlets):
    """Height of the surface at each place, and in the tank under its name.

    places: name -> (component, height or None)"""
    floor, beside = {}, {}

    def cell(key, height):
        floor[key] = height
        beside[key] = []

    def join(a, b):
        if a in floor and b in floor:
            beside[a].append(b)
            beside[b].append(a)

    for name, (_, height) in places.items():
        if height is not None:
            cell(name, height)
    for pipe in pipes:
        low, high = (places[end][1] for end in pipe.ends)
        if low is None or high is None:
            continue
        chain = [pipe.ends[0]]
        for k in range(CELLS):
            key = (pipe.name, k)
            cell(key, low + (high - low) * (k + 0.5) / CELLS)
            chain.append(key)
        chain.append(pipe.ends[1])
        for a, b in zip(chain, chain[1:]):
            join(a, b)
    components = {}
    for name, (component, _) in places.items():
        components.setdefault(component, []).append(name)
    for component, members in components.items():
        if tank is not None and component == tank.name:
            if tank.bottom is not None:
                cell(tank.name, tank.bottom)
                for name in members:
                    join(tank.name, name)
                continue
        for a in members:
            for b in members:
                if a < b:
                    join(a, b)
    surface = {key: FULL for key in floor}
    for outlet in outlets:
        if outlet in surface:
            surface[outlet] = floor[outlet]
    moved = any(outlet in surface for outlet in outlets)
    while moved:
        moved = False
        for key, height in floor.items():
            for other in beside[key]:
                level = max(height, surface[other])
                if level < surface[key]:
                    surface[key] = level
                    moved = True
    for name in list(places) + ([tank.name] if tank else []):
        surface.setdefault(name, FULL)
    if tank is not None and tank.bottom is None:
        surface[tank.name] = min([surface[p] for p in tank.ports], default=FULL)
    return surface


def disc_below(radius, t):
    """Of a disc: the area at heights below t over its centre, as a sum of strips."""
    if t <= -radius:
        return 0.0
    if t >= radius:
        return math.pi * radius * radius
    # Strips of equal angle: x = R sin(a), width 2 R cos(a).
    top, steps = math.asin(t / radius), 200
    width = (top + math.pi / 2) / steps
    return sum(2 * (radius * math.cos(-math.pi / 2 + (i + 0.5) * width)) ** 2
               for i in range(steps)) * width


def pipe_below(pipe, low, high, surface):
    """At most: straight, or level at its lower end with a riser behind."""
    low, high = min(low, high), max(low, high)
    rise, radius = high - low, pipe.bore / 2
    length = max(pipe.length, rise)
    across = math.sqrt(max(0.0, length * length - rise * rise)) / length
    full, slices = math.pi * radius * radius, 200
    straight = full * min(max(surface - low, 0.0), rise) if across < 1e-6 else 0.0
    for i in range(slices if across >= 1e-6 else 0):
        gap = surface - (low + rise * (i + 0.5) / slices)
        if abs(gap / across) >= radius:
            area = full if gap > 0 else 0.0
        else:
            area = disc_below(radius, gap / across)
        straight += area * length / slices
    bent = (length - rise) * disc_below(radius, surface - low) + full * min(max(surface - low, 0), rise)
    return max(straight, bent)


def head_depth(tank):
    d = tank.diameter
    return {"flat": 0.0, "elliptical": d / 4, "hemispherical": d / 2,
            "dished": d - math.sqrt((0.9 * d) ** 2 - (0.4 * d) ** 2)}[tank.heads]


def head_radius(tank, inward):
    """Radius of a head at a depth from its tangent line outward."""
    d, depth = tank.diameter, head_depth(tank)
    if inward >= depth:
        return 0.0
    if tank.heads in ("elliptical", "hemispherical"):
        return d / 2 * math.sqrt(1 - (inward / depth) ** 2)
    # Crown: sphere of radius d; knuckle: ring of radius d/10 about a circle of radius 0.4 d.
    knuckle = 0.4 * d + math.sqrt((0.1 * d) ** 2 - inward ** 2) if inward < 0.1 * d else 0.0
    crown = math.sqrt(max(0.0, d * d - (inward + d - depth) ** 2))
    # The two touch where the line through both centres meets them.
    touch = d * math.sqrt(1 - (0.4 / 0.9) ** 2) - (d - depth)
    return knuckle if inward <= touch else crown


def tank_below(tank, surface, slices=2000):
    """Volume below a surface, in slices across the axis."""
    depth, radius = head_depth(tank), tank.diameter / 2
    half = tank.length / 2 + depth
    width, total = 2 * half / slices, 0.0
    for i in range(slices):
        x = -half + (i + 0.5) * width
        inward = abs(x) - tank.length / 2
        r = radius if inward <= 0 else head_radius(tank, inward)
        if tank.shape == "vertical":
            if tank.bottom + half + x < surface:
                total += math.pi * r * r * width
        elif r > 0:
            t = max(-r, min(r, surface - tank.bottom - radius))
            total += (r * r * math.acos(-t / r) + t * math.sqrt(max(0.0, r * r - t * t))) * width
    return total
