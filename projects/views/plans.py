"""Plans: listing, publishing a file, looking at a revision, taking it away."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from projects import actions, adapters
from projects.access import get_plan, need_instructor
from projects.engine.errors import EngineError
from projects.engine.fit.solve import check_plan
from projects.forms import PlanFileForm
from projects.models import Plan
from projects.present.build_page import distance_lines
from projects.present.drawings import pictorial_drawing, piece_drawings
from projects.present.size_table import size_table
from projects.showing import showing_for
from projects.words import lines


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def plan_list(request: HttpRequest) -> HttpResponse:
    """List the instructor's plans; publish a plan file as a new plan."""
    user = need_instructor(request)
    form = _form(request)
    if request.method == "POST" and (plan := _publish(request, form)):
        return redirect("plan-detail", plan.pk)
    plans = Plan.objects.editable_by(user).with_newest()
    context = {"plans": plans.select_related("draft", "owner"), "form": form}
    status = 422 if form.errors else 200
    return render(request, "projects/plan_list.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def plan_detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a plan at its nominal sizes; publish a file as its next revision."""
    plan = get_plan(request, pk)
    form = _form(request)
    if request.method == "POST" and _publish(request, form, plan=plan):
        return redirect("plan-detail", plan.pk)
    revisions = list(plan.revisions.order_by("-number"))
    if not revisions:
        return redirect("draft", plan.pk)
    read = adapters.plan_of(revisions[0])
    solution = check_plan(read)
    showing = showing_for(request, read)
    context = {
        "plan": plan,
        "revisions": revisions,
        "stock": [(stock, showing.of(stock.thickness.mm)) for stock in read.stock],
        "parts": size_table(solution, showing),
        "distances": distance_lines(solution, showing),
        "drawings": (
            pictorial_drawing(solution, showing),
            *piece_drawings(solution, showing),
        ),
        "form": form,
    }
    status = 422 if form.errors else 200
    return render(request, "projects/plan_detail.html", context, status=status)


def _form(request: HttpRequest) -> PlanFileForm:
    if request.method == "POST":
        return PlanFileForm(request.POST, request.FILES)
    return PlanFileForm()


def _publish(
    request: HttpRequest, form: PlanFileForm, *, plan: Plan | None = None
) -> Plan | None:
    """Publish the file sent, or put what is wrong with it on the form."""
    if not form.is_valid():
        return None
    user = need_instructor(request)
    try:
        return actions.publish_file(user, form.cleaned_data["file"], plan=plan).plan
    except EngineError as error:
        for line in lines(error):
            form.add_error("file", line)
        return None


@require_safe
@login_required
def revision_file(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Give a revision's plan file back, to the byte."""
    revision = get_object_or_404(get_plan(request, pk).revisions, number=number)
    name = f"plan-{pk}-revision-{number}.json"
    return HttpResponse(
        revision.document,
        content_type="application/json",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


@require_safe
@login_required
def revision_zip(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Give a revision's plan file with the pictures of its steps, as a zip."""
    revision = get_object_or_404(get_plan(request, pk).revisions, number=number)
    name = f"plan-{pk}-revision-{number}.zip"
    return HttpResponse(
        actions.pack_revision(revision),
        content_type="application/zip",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )
