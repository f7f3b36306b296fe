"""The kinds of machine a school shop has, and which cautions go with each."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class MachineKind:
    """Describe one kind of machine.

    `cautions` are keys of `shop.cautions`; `sizes_parts` tells whether parts are cut
    to their size at it.
    """

    key: str
    name: str
    cautions: tuple[str, ...]
    sizes_parts: bool = False


NO_MACHINE = "none"
"""The key of the bench with its clamps, where a step needs no machine."""
HAND_TOOLS = "hand_tools"

_KINDS = (
    MachineKind(key="jointer", name="Jointer", cautions=("jointer",)),
    MachineKind(key="planer", name="Planer", cautions=("planer",)),
    MachineKind(
        key="table_saw", name="Table saw", cautions=("table_saw",), sizes_parts=True
    ),
    MachineKind(
        key="mitre_saw", name="Mitre saw", cautions=("mitre_saw",), sizes_parts=True
    ),
    MachineKind(
        key="band_saw", name="Band saw", cautions=("band_saw",), sizes_parts=True
    ),
    MachineKind(key="router", name="Router", cautions=("router",), sizes_parts=True),
    MachineKind(
        key="router_table",
        name="Router table",
        cautions=("router_table",),
        sizes_parts=True,
    ),
    MachineKind(key="drill_press", name="Drill press", cautions=("drill",)),
    MachineKind(key="mortiser", name="Mortiser", cautions=("mortise",)),
    MachineKind(key="sander", name="Sander", cautions=("sander", "dust")),
    MachineKind(
        key=HAND_TOOLS, name="Hand tools", cautions=("hand_tools",), sizes_parts=True
    ),
    MachineKind(key=NO_MACHINE, name="Bench and clamps", cautions=()),
)
MACHINES: dict[str, MachineKind] = {kind.key: kind for kind in _KINDS}
