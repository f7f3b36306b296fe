"""Random small assemblies, every size fixed, with wants and facts that disagree."""

import random
from typing import Any

from tests.engine.builds import ENDS, data, distance, joint, part

ORDERS = ("xyz", "xzy", "yxz", "yzx", "zxy", "zyx")
MARKS = 64
SLOTS = ("dado", "groove", "rabbet")
TOUCHING = ("butt", "dowel")
DEPTHS = ("3/8", "1/4", "5 mm", "0.2")
SHARES = ("1/2", "1/3", "0.25")


def random_build(seed: int) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return a plan and readings for it, the same for the same seed.

    All boxes are some 22 in long and wide, and joined near their two ends only, so
    that most sizes come out above 0; lengths are drawn close together, so that some
    that contradict are off by less than a mark.
    """
    source = random.Random(seed)
    stock = [
        {"key": f"s{n}", "name": f"Stock {n}", "kind": "solid",
         "thickness": source.choice(["3/4", "0.742", "1/2", "19 mm", "18.3 mm"])}
        for n in range(2)
    ]  # fmt: skip
    parts = [
        part(f"p{n}", source.choice(ORDERS), stock=f"s{source.randrange(2)}")
        for n in range(source.randint(2, 5))
    ]
    made: dict[str, Any] = {"joints": [], "flush": [], "even": [], "distances": []}
    for axis in ENDS:
        _structure(source, parts, axis, made)
        made["distances"] += _distances(source, parts, axis)
    made["distances"] += _sizes(source, parts)
    source.shuffle(made["distances"])
    plan = data(parts, **made, tape=source.choice([8, 16, 32, 64]))
    plan["stock"] = stock
    return plan, _readings(source, plan)


def _length(source: random.Random) -> str:
    """Return a length near 22 in, written in one way or another."""
    if source.random() < 0.2:
        return f"{source.randint(5400, 5900) / 10} mm"
    off = source.choice([0, 0, source.randint(-4, 4), source.randint(-64, 64)])
    whole, rest = divmod(22 * MARKS + off, MARKS)
    return f"{whole} {rest}/{MARKS}" if rest else f"{whole}"


def _ends(
    source: random.Random, parts: list[dict[str, Any]], axis: str
) -> tuple[dict[str, int], dict[str, int]]:
    """Return the faces at the low and those at the high end, grouped by part."""
    low, high = ENDS[axis]
    ends: tuple[dict[str, int], dict[str, int]] = ({}, {})
    for n, p in enumerate(parts):
        if p["thickness"] == axis:
            end = source.choice(ends)
            end |= {f"{p['key']}.{low}": n, f"{p['key']}.{high}": n}
        else:
            ends[0][f"{p['key']}.{low}"] = ends[1][f"{p['key']}.{high}"] = n
    return ends


def _structure(
    source: random.Random, parts: list[dict[str, Any]], axis: str, made: dict[str, Any]
) -> None:
    """Join faces that nothing joined yet, so that no loop contradicts itself."""
    for group in _ends(source, parts, axis):
        for _ in range(source.randint(0, len(group))):
            one, other = source.sample(sorted(group), 2) if len(group) > 1 else ("", "")
            if group.get(one) == group.get(other):
                continue
            if one.split(".")[1] == other.split(".")[1]:
                made["flush"].append([one, other])
            else:
                key = f"j{len(made['joints'])}"
                made["joints"].append(_joint(source, key, one, other))
            old, new = group[one], group[other]
            group |= {face: new for face, of in group.items() if of == old}
    wide = [p["key"] for p in parts if p["thickness"] != axis]
    if len(wide) > 1 and source.random() < 0.2:
        pairs = [[f"{key}.{face}" for face in ENDS[axis]] for key in wide]
        made["even"].append(source.sample(pairs, 2))


def _joint(source: random.Random, key: str, guest: str, host: str) -> dict[str, Any]:
    if source.random() < 0.3:
        return joint(key, source.choice(TOUCHING), guest, host)
    depth = source.choice((*DEPTHS, {"of_thickness": source.choice(SHARES)}))
    return joint(key, source.choice(SLOTS), guest, host, depth=depth)


def _distances(
    source: random.Random, parts: list[dict[str, Any]], axis: str
) -> list[dict[str, Any]]:
    """Return wanted distances from one end to the other, of different parts."""
    made = []
    low, high = ENDS[axis]
    for n in range(source.randint(0, 4)):
        one, other = source.sample([p["key"] for p in parts], 2)
        more: dict[str, Any] = {}
        if source.random() < 0.6:
            more["held"] = source.randint(1, 3)
        if source.random() < 0.3:
            more["measure"] = "dry_fit"
        start, end = f"{one}.{low}", f"{other}.{high}"
        made.append(distance(f"d{axis}{n}", start, end, _length(source), **more))
    return made


def _sizes(source: random.Random, parts: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return a wanted distance for each length and width: nothing is left free."""
    made = []
    for p in parts:
        for dimension in ("length", "width"):
            low, high = ENDS[p[dimension]]
            held = {"held": source.randint(2, 4)} if source.random() < 0.3 else {}
            start, end = f"{p['key']}.{low}", f"{p['key']}.{high}"
            key = f"{p['key']}_{dimension}"
            made.append(distance(key, start, end, _length(source), **held))
    return made


def _readings(source: random.Random, plan: dict[str, Any]) -> dict[str, Any]:
    """Return readings of some thicknesses, distances and cut sizes."""

    def points(count: int) -> list[str]:
        return [f"0.{source.randint(700, 790)}" for _ in range(count)]

    stock = {s["key"]: points(source.randint(1, 4)) for s in plan["stock"]
             if source.random() < 0.6}  # fmt: skip
    parts = {p["key"]: {"thickness": points(source.randint(1, 2))}
             for p in plan["parts"] if source.random() < 0.3}  # fmt: skip
    distances = {d["key"]: _length(source) for d in plan["distances"]
                 if source.random() < 0.2}  # fmt: skip
    names = [f"{p['key']}.{d}" for p in plan["parts"] for d in ("length", "width")]
    cut = {name: _length(source) for name in names if source.random() < 0.2}
    return {"stock": stock, "parts": parts, "distances": distances, "cut": cut}
