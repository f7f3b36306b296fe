"""The machines of the invented shop, with figures that are invented too."""

from __future__ import annotations

from dataclasses import dataclass, field

from projects import actions
from projects.models import Machine, Requirement, Shop, User

INVENTED = "These figures are invented for the demo. Measure your own machine."
LAPSES_AFTER_MONTHS = 12
CONSENT = "table_saw"
"""The kind of machine for which this shop wants a consent form on file."""


@dataclass(frozen=True, kw_only=True)
class Typed:
    """Hold what the instructor typed of one kind of machine."""

    limits: dict[str, str]
    cautions: tuple[str, ...] = ()
    fields: dict[str, int] = field(default_factory=dict)


TYPED: dict[str, Typed] = {
    "jointer": Typed(
        limits={
            "shortest": "12",
            "narrowest": "3/4",
            "thinnest": "1/4",
            "widest": "6",
            "deepest_cut": "1/16",
        },
    ),
    "planer": Typed(
        limits={
            "shortest": "12",
            "thinnest": "3/16",
            "widest": "13",
            "thickest": "6",
            "deepest_cut": "1/16",
        },
        fields={"step_minutes": 15, "setup_minutes": 2},
    ),
    "table_saw": Typed(
        limits={
            "shortest": "12",
            "narrowest": "2",
            "blade_diameter": "10",
            "kerf": "1/8",
            "deepest_cut": "3",
            "widest_rip": "30",
            "dado_blades": "1/8, 1/8",
            "dado_chippers": "1/8, 1/8, 1/8, 1/16, 3/32",
            "dado_shims": "0.005, 0.005, 0.010, 0.010, 0.020",
            "dado_widest": "13/16",
        },
        cautions=("The dado set goes on with the instructor looking.",),
        fields={"setup_minutes": 5},
    ),
    "mitre_saw": Typed(
        limits={
            "shortest": "8",
            "blade_diameter": "10",
            "kerf": "3/32",
            "widest_crosscut": "12",
            "thickest": "3 1/2",
        },
        fields={"step_minutes": 5, "setup_minutes": 1},
    ),
    "band_saw": Typed(
        limits={
            "shortest": "4",
            "throat": "13 1/2",
            "thickest": "6",
            "blade_widths": "1/4, 1/2",
            "kerf": "0.035",
        },
        fields={"setup_minutes": 3},
    ),
    "router": Typed(
        limits={"collets": "1/4, 1/2", "bits": "1/4, 3/8, 1/2, 3/4"},
        fields={"how_many": 2, "step_minutes": 15},
    ),
    "router_table": Typed(
        limits={
            "shortest": "8",
            "narrowest": "2",
            "thinnest": "1/4",
            "collets": "1/4, 1/2",
            "bits": "1/4, 3/8, 1/2",
        },
    ),
    "drill_press": Typed(
        limits={
            "throat": "7",
            "stroke": "3",
            "chuck": "1/2",
            "bits": "1/4, 5/16, 3/8, 1/2",
        },
        fields={"step_minutes": 5, "setup_minutes": 2},
    ),
    "mortiser": Typed(
        limits={"chisels": "1/4, 3/8", "stroke": "4", "thickest": "5"},
        fields={"step_minutes": 15},
    ),
    "sander": Typed(
        limits={"shortest": "6", "thinnest": "1/4", "disk_diameter": "12"},
        fields={"step_minutes": 15},
    ),
    "hand_tools": Typed(
        limits={"chisels": "1/4, 3/8, 1/2, 3/4, 1", "saw_kerf": "0.025"},
        fields={"how_many": 6},
    ),
}


def furnish(instructor: User, shop: Shop) -> dict[str, Machine]:
    """List in the shop what the instructor's classes use; return it by kind."""
    machines = {
        machine.kind: machine
        for machine in actions.add_machines_wanted(instructor, shop)
    }
    for kind, machine in machines.items():
        typed = TYPED[kind]
        actions.change_machine(
            machine,
            limits=typed.limits,
            cautions="\n".join((*typed.cautions, INVENTED)),
            lapses_after_months=LAPSES_AFTER_MONTHS,
            **typed.fields,
        )
    actions.add_requirement(machines[CONSENT], kind=Requirement.Kind.CONSENT)
    return machines
