"""Ticking what is cut off a run sheet, and keeping a sheet as it is."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from django.utils import timezone

from projects.models import CutMark, Machine, RunSheet, ShopClass, User


def mark_cut(
    cuts: Collection[tuple[int, str, str]],
    *,
    done: bool,
    already: Collection[tuple[int, str, str]],
    by: User,
) -> None:
    """Say of pieces (build, step, setting) that they are cut, or are not after all.

    `already` are those that are said to be cut; nothing is said twice.
    """
    now = timezone.now()
    CutMark.objects.bulk_create(
        CutMark(build_id=build, step=step, setting=setting, done=done, at=now, by=by)
        for build, step, setting in cuts
        if ((build, step, setting) in already) != done
    )


def keep_run_sheet(
    shop_class: ShopClass, machine: Machine, setups: list[dict[str, Any]], *, by: User
) -> RunSheet:
    """Keep who is in which setup of a machine now."""
    return RunSheet.objects.create(
        shop_class=shop_class,
        machine=machine,
        setups=setups,
        at=timezone.now(),
        by=by,
    )
