"""Builds on plans with steps of their own, and what is done on their pages."""

import json
from html import unescape

from django.utils import timezone

from projects import actions
from projects.models import StepMark
from tests.factories import plan_data

SAW = {"machine": "table_saw"}


def step(key, *parts, stage="mill", **more):
    return {
        "key": key,
        "title": key.capitalize(),
        "stage": stage,
        "parts": list(parts),
        **more,
    }


def publish(build, *steps):
    """Move a build to a revision with these steps."""
    plan = build.revision.plan
    document = json.dumps(plan_data() | {"steps": list(steps)}).encode()
    revision = actions.publish_plan(plan.owner, document, plan=plan)
    actions.move_builds(build.shop_class, [build], revision, by=plan.owner)
    return build


def tick(client, url, key, **more):
    return client.post(url("step-mark", key), {"done": "1", **more})


def mark(build, key, *, done=True, by=None):
    return StepMark.objects.create(
        build=build,
        step=key,
        title=key.capitalize(),
        done=done,
        at=timezone.now(),
        by=by or build.student,
    )


def words(answered):
    return " ".join(unescape(answered.content.decode()).split())
