"""What is next for a student at the meeting that is on."""

from __future__ import annotations

from typing import Any

from django import template
from django.utils import timezone

from projects.engine.steps.words import in_text
from projects.models import Build
from projects.night_next import next_turn
from projects.present.build_steps import BuildSteps

register = template.Library()


@register.inclusion_tag("projects/_next_for_you.html")
def next_for_you(build: Build, page: BuildSteps) -> dict[str, Any]:
    """Say a build's turn now or next; costs one query.

    Where it waits for something, `first` is the step in hand where that can be done.
    """
    rows = {row.key: row for stage in page.stages for row in stage.rows}
    found = next_turn(
        build.shop_class_id,
        build.pk,
        done={key for key, row in rows.items() if row.standing.is_done},
        ready={key for key, row in rows.items() if row.standing.is_open},
        now=timezone.now(),
    )
    if found is None or found.step not in rows:
        return {}
    in_hand = page.now.standing if page.now else None
    return {
        "build": build,
        "turn": found,
        "title": rows[found.step].title,
        "place": in_text(found.place),
        "first": in_hand.step if in_hand and in_hand.is_open else None,
    }
