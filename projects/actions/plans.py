"""Publishing plans, with or without pictures."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from projects import adapters
from projects.engine.errors import PlanError
from projects.engine.fit.solve import check_plan
from projects.engine.plan.reader import read_plan
from projects.engine.plan.records import Plan as EnginePlan
from projects.models import Plan, PlanPicture, Revision, User
from projects.pictures import Clean
from projects.plan_zip import is_zip, pack, unpack


def publish_plan(
    by: User,
    data: bytes,
    *,
    plan: Plan | None = None,
    pictures: Sequence[Clean] = (),
) -> Revision:
    """Publish a plan file: as a new plan, or as the next revision of `plan`.

    `pictures` come with it; its steps may also name those the plan has already.
    Raises `EngineError` telling all that is wrong with the file; nothing is written
    then.
    """
    # solving can take seconds, so it is done before the database is locked
    read = read_plan(data)
    check_plan(read)
    _need_pictures(read, plan, pictures)
    with transaction.atomic():
        if plan is None:
            plan = Plan(owner=by)
        plan.title = read.title
        plan.save()
        for picture in pictures:
            add_picture(plan, picture, by=by)
        newest = plan.revisions.order_by("number").last()
        return Revision.objects.create(
            plan=plan,
            number=newest.number + 1 if newest else 1,
            document=data.decode(),
            published_at=timezone.now(),
            published_by=by,
        )


def publish_file(by: User, data: bytes, *, plan: Plan | None = None) -> Revision:
    """Publish an uploaded file: a plan file, or a zip of one with its pictures.

    Raises what `publish_plan` raises, and `EngineError` for a zip that is none.
    """
    if not is_zip(data):
        return publish_plan(by, data, plan=plan)
    packed = unpack(data)
    return publish_plan(by, packed.plan, plan=plan, pictures=packed.pictures)


def add_picture(plan: Plan, picture: Clean, *, by: User) -> PlanPicture:
    """Keep a picture of a plan; the one of that name where it is there already."""
    kept, _ = PlanPicture.objects.get_or_create(
        plan=plan,
        name=picture.name,
        defaults={
            "data": picture.data,
            "width": picture.width,
            "height": picture.height,
            "at": timezone.now(),
            "by": by,
        },
    )
    return kept


def _need_pictures(
    read: EnginePlan, plan: Plan | None, pictures: Sequence[Clean]
) -> None:
    there = {picture.name for picture in pictures}
    if plan is not None:
        there |= set(
            PlanPicture.objects.filter(plan=plan).values_list("name", flat=True)
        )
    for n, step in enumerate(read.steps):
        if step.picture and step.picture not in there:
            raise PlanError(
                "steps[{n}].picture: there is no picture {name} with this plan",
                n=n,
                name=step.picture,
            )


def pack_revision(revision: Revision) -> bytes:
    """Return a revision's plan file and the pictures it names as a zip."""
    read = adapters.plan_of(revision)
    names = {step.picture for step in read.steps if step.picture}
    kept = PlanPicture.objects.filter(plan=revision.plan_id, name__in=names)
    return pack(
        revision.document.encode(),
        {picture.name: bytes(picture.data) for picture in kept},
    )
