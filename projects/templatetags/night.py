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
    """Say a build's turn now or next; costs one query."""
    rows = {row.key: row for stage in page.stages for row in stage.rows}
    done = (key for key, row in rows.items() if row.standing.is_done)
    now = timezone.now()
    found = next_turn(build.shop_class_id, build.pk, done=done, now=now)
    if found is None or found.step not in rows:
        return {}
    return {
        "build": build,
        "turn": found,
        "title": rows[found.step].title,
        "place": in_text(found.place),
        "is_now": found.begins_at <= now,
    }
