"""The supplied questions of the written checks: ten for each common machine.

They remind of the machine's cautions and never say that anything is safe. Each names
the rule that supports it, or says that it is common practice without a source.
"""

from __future__ import annotations

from projects.engine.shop.questions import (
    band_saw,
    drill_press,
    hand_tools,
    jointer,
    mitre_saw,
    mortiser,
    planer,
    router,
    router_table,
    sander,
    table_saw,
)
from projects.engine.shop.questions.question import Question, QuestionError

__all__ = ["QUESTIONS", "Question", "QuestionError"]

QUESTIONS: dict[str, tuple[Question, ...]] = {
    "jointer": jointer.QUESTIONS,
    "planer": planer.QUESTIONS,
    "table_saw": table_saw.QUESTIONS,
    "mitre_saw": mitre_saw.QUESTIONS,
    "band_saw": band_saw.QUESTIONS,
    "router": router.QUESTIONS,
    "router_table": router_table.QUESTIONS,
    "drill_press": drill_press.QUESTIONS,
    "mortiser": mortiser.QUESTIONS,
    "sander": sander.QUESTIONS,
    "hand_tools": hand_tools.QUESTIONS,
}
"""By the key of `shop.machines.MACHINES`, the bench left out."""
