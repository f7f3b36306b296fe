"""What to mind in a step: its machine's cautions, its own, the author's words."""

from __future__ import annotations

from projects.engine.plan.steps import Step
from projects.engine.shop.cautions import CAUTIONS, Caution, cautions
from projects.engine.shop.machines import MACHINES

AUTHOR = "the plan's author"


def cautions_of(step: Step) -> tuple[Caution, ...]:
    """Return the cautions of a step, those that stand everywhere first."""
    known = [key for key in step.cautions if key in CAUTIONS]
    own = [text for text in step.cautions if text not in CAUTIONS]
    return (
        *cautions((*MACHINES[step.machine].cautions, *known)),
        *(Caution(text=text, source=AUTHOR) for text in own),
    )
