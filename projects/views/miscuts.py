"""A part that came out wrong: its ways out, proposed and decided on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, cast

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from projects import actions, adapters, progress
from projects.access import get_build, get_build_to_log, signed_in
from projects.engine.errors import EngineError
from projects.engine.fit.advice import Target
from projects.engine.fit.miscut import Miscut, miscut
from projects.engine.fit.solve import Solution
from projects.engine.fit.system import SizeKey
from projects.engine.plan.readings import Fact
from projects.http import HtmxRequest, varying, wants_fragment
from projects.miscut_forms import DecisionForm, WayOutForm
from projects.models import Build, Reading, ShopClass, WayOut
from projects.present.log_form import target_name
from projects.present.miscut import marked_names, miscut_page, told_ways, ways_of
from projects.showing import Showing, showing_for
from projects.views.broken import shows_broken_builds
from projects.ways_out import marked_as_cut
from projects.words import words


@dataclass(frozen=True, kw_only=True)
class Looked:
    """A size as cut of a build, and all that was read to tell of it.

    `found` is None where it fits, or where no cut of it counts. `marked` are the sizes
    whose steps are marked as done.
    """

    build: Build
    target: Target
    rows: list[Reading]
    ways: list[WayOut]
    marked: frozenset[SizeKey]
    solution: Solution
    found: Miscut | None


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
@shows_broken_builds
def build_miscut(
    request: HtmxRequest, pk: int, part: str, dimension: str
) -> HttpResponse:
    """Show what a miscut changes and the ways out; a POST proposes one of them.

    With `check` it only tells whether the stock left is large enough.
    """
    gate = get_build_to_log if request.method == "POST" else get_build
    build = gate(request, pk)
    looked = _look(build, _target(build, part, dimension))
    if request.method != "POST":
        return _page(request, looked)
    if looked.found is None:
        return _page(request, looked, status=422)
    plan = looked.solution.plan
    form = WayOutForm(request.POST, found=looked.found, plan=plan)
    is_valid = form.is_valid()
    if "check" in request.POST:
        return _checked(request, looked, form)
    asks = is_valid and form.asks_again
    if not is_valid or asks:
        return _page(request, looked, {"form": form, "asks_again": asks}, status=422)
    actions.propose_way_out(
        next(row for row in reversed(looked.rows) if row.target == str(looked.target)),
        looked.found,
        by=signed_in(request),
        kind=form.kind,
        details=form.details(),
        unit=plan.units,
        note=form.cleaned_data["note"],
    )
    return redirect("build-miscut", pk, part, dimension)


def _target(build: Build, part: str, dimension: str) -> Target:
    plan = adapters.plan_of(build.revision)
    target = adapters.read_target(f"cut:{part}.{dimension}", plan)
    if target is None:
        raise Http404
    return target


def _look(build: Build, target: Target) -> Looked:
    rows, ways = list(build.readings.select_related("by")), ways_of(build)
    solution = adapters.solve_build(build, rows)
    fact, marked = cast(Fact, target.fact), marked_as_cut(build, ways)
    is_cut = fact in solution.readings.facts
    return Looked(
        build=build,
        target=target,
        rows=rows,
        ways=ways,
        marked=marked,
        solution=solution,
        found=miscut(solution, fact, marked=marked) if is_cut else None,
    )


def _checked(request: HtmxRequest, looked: Looked, form: WayOutForm) -> HttpResponse:
    """Tell whether the stock left is large enough; nothing is written."""
    form.only_stock()
    status = 422 if form.errors else 200
    if wants_fragment(request):
        context = {"build": looked.build, "target": looked.target, "form": form}
        page = "projects/_miscut_stock.html"
        return varying(render(request, page, context, status=status))
    return _page(request, looked, {"form": form}, status=status)


def _page(
    request: HtmxRequest,
    looked: Looked,
    more: dict[str, Any] | None = None,
    *,
    status: int = 200,
) -> HttpResponse:
    user, build, target = signed_in(request), looked.build, looked.target
    found, solution, plan = looked.found, looked.solution, looked.solution.plan
    size = (target.key, target.dimension or "length")
    showing: Showing = showing_for(request, plan)
    classes = ShopClass.objects.taught_by(user).filter(archived_at=None)
    told = told_ways(looked.ways, looked.rows, plan, showing)
    here = [line for line in told if line.target == str(target)]
    agreed = here[0] if here and here[0].state == "agreed" else None
    context = {
        "build": build,
        "target": target,
        "name": target_name(target, plan),
        "is_own": build.student_id == user.pk,
        "may_propose": progress.may_write(build, user),
        "may_decide": classes.filter(pk=build.shop_class_id).exists(),
        "page": miscut_page(found, plan, showing) if found else None,
        "gives_as_it_is": _gives(found),
        "is_cut": target.fact in solution.readings.facts,
        "wanted": showing.of(solution.sizes[size]),
        "waits": size in solution.system.waiting,
        "marked": marked_names(solution, looked.marked),
        "told": here,
        "agreed": agreed,
        "serves": agreed is not None and _serves(agreed.row, target, solution),
        **(more or {}),
    }
    return varying(
        render(request, "projects/build_miscut.html", context, status=status)
    )


def _gives(found: Miscut | None) -> str:
    """Return the key of the one distance that gives as it is; "" for none or more."""
    giving = found.as_it_is.giving if found else ()
    return giving[0].distance.key if len(giving) == 1 else ""


def _serves(way: WayOut, target: Target, solution: Solution) -> bool:
    """Tell whether the part that a miscut one serves as is logged as cut."""
    part = way.details.get("part", "")
    fact = Fact(kind="cut", key=part, dimension=target.dimension)
    return fact in solution.readings.facts


@require_POST
@login_required
@shows_broken_builds
def way_decide(request: HtmxRequest, pk: int, way: int) -> HttpResponse:
    """Agree with a proposal, or not; only who teaches the class does."""
    build = get_build(request, pk)
    taught = ShopClass.objects.taught_by(signed_in(request)).filter(archived_at=None)
    if not taught.filter(pk=build.shop_class_id).exists():
        raise PermissionDenied
    proposed = get_object_or_404(
        WayOut.objects.select_related("reading", "build__revision"), pk=way, build=build
    )
    target = adapters.read_target(
        proposed.reading.target, adapters.plan_of(build.revision)
    )
    if target is None or target.fact is None:
        raise Http404
    form = DecisionForm(request.POST)
    if not form.is_valid() or not _decided(request, proposed, form):
        more = {"decision": form, "deciding": proposed.pk}
        return _page(request, _look(build, target), more, status=422)
    return redirect("build-miscut", pk, target.key, target.dimension)


def _decided(request: HtmxRequest, way: WayOut, form: DecisionForm) -> bool:
    data = form.cleaned_data
    try:
        actions.decide_way_out(
            way, by=signed_in(request), agreed=data["agreed"], note=data["note"]
        )
    except EngineError as error:
        form.add_error(None, words(error))
        return False
    return True
