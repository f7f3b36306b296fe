"""Around a draft: starting one, plan files in and out, trying it, publishing it."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from projects import drafting, shops
from projects.access import get_draft, get_plan, need_instructor
from projects.draft_forms import ShareForm, StartForm
from projects.draft_pictures import bring_in_file
from projects.engine.errors import EngineError
from projects.forms import PlanFileForm
from projects.http import HtmxRequest, respond, wants_fragment
from projects.models import Draft
from projects.present.draft_page import head_plan, look_at
from projects.present.draft_trial import trial
from projects.present.findings import findings
from projects.showing import showing_for
from projects.words import lines


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def draft_start(request: HttpRequest) -> HttpResponse:
    """Start a plan from nothing: its title and units."""
    user = need_instructor(request)
    form = StartForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        draft = drafting.start(user, **form.cleaned_data)
        return redirect("draft", draft.plan_id)
    status = 422 if form.errors else 200
    return render(request, "projects/draft_start.html", {"form": form}, status=status)


@require_POST
@login_required
def draft_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Go to a plan's draft; make one of its newest revision where there is none."""
    user = need_instructor(request)
    drafting.edit(get_plan(request, pk), user)
    return redirect("draft", pk)


@require_safe
@login_required
def draft_file(request: HttpRequest, pk: int) -> HttpResponse:
    """Give the draft as a plan file."""
    change = drafting.current_change(get_draft(request, pk))
    name = f"plan-{pk}-draft.json"
    return HttpResponse(
        drafting.file_of(change),
        content_type="application/json",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def draft_import(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a plan file, or a zip with its pictures, in the place of the draft."""
    draft = get_draft(request, pk)
    form = PlanFileForm()
    if request.method == "POST":
        form = PlanFileForm(request.POST, request.FILES)
        if form.is_valid() and _bring_in(request, draft, form):
            return redirect("draft", pk)
    context = {"form": form, "draft": draft}
    status = 422 if form.errors else 200
    return render(request, "projects/draft_import.html", context, status=status)


def _bring_in(request: HttpRequest, draft: Draft, form: PlanFileForm) -> bool:
    """Bring the file in, or put what is wrong with it on the form."""
    try:
        bring_in_file(draft, need_instructor(request), form.cleaned_data["file"])
    except EngineError as error:
        for line in lines(error):
            form.add_error("file", line)
        return False
    return True


@require_safe
@login_required
def draft_try(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show what follows from the readings of a trial build; nothing is kept.

    htmx gets how many checks are open, for the draft's page: they take a while.
    """
    draft = get_draft(request, pk)
    change = drafting.current_change(draft)
    planned = look_at(change.document).solution
    context: dict[str, object] = {"draft": draft}
    if planned is not None:
        head = head_plan(drafting.document_of(change))
        showing = showing_for(request, head)
        found = findings(
            planned,
            shops.limits_of(need_instructor(request)),
            draft.plan.acceptances.select_related("by"),
            showing,
        )
        context |= {
            "showing": showing,
            "found": found,
            "open_checks": sum(not line.accepted for line in found),
        }
        if not wants_fragment(request):
            context["trial"] = trial(planned, request.GET, showing)
    page, fragment = "projects/draft_try.html", "projects/_draft_checks.html"
    return respond(request, page, fragment, context)


@require_POST
@login_required
def draft_publish(request: HttpRequest, pk: int) -> HttpResponse:
    """Publish the draft as the plan's next revision."""
    draft = get_draft(request, pk)
    number = request.POST.get("based_on", "")
    based_on = int(number) if number.isdecimal() and len(number) < 10 else 0
    told = "published"
    try:
        drafting.publish(draft, need_instructor(request), based_on=based_on)
    except drafting.NothingNewError:
        told = "unchanged"
    except EngineError as error:
        context = {"draft": draft, "why": lines(error)}
        return render(request, "projects/draft_unpublished.html", context, status=422)
    newest = draft.plan.revisions.order_by("number").last()
    query = f"{told}={newest.number}" if newest else ""
    return redirect(f"{reverse('draft', args=[pk])}?{query}#told")


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def draft_editors(request: HttpRequest, pk: int) -> HttpResponse:
    """Let other instructors write at a plan of one's own, or no longer."""
    plan = get_plan(request, pk)
    form = ShareForm()
    if request.method == "POST" and request.POST.get("op") == "remove":
        drafting.unshare(plan, request.POST.get("editor", ""))
        return redirect("draft-editors", pk)
    if request.method == "POST":
        form = ShareForm(request.POST)
        if form.is_valid():
            try:
                drafting.share(plan, form.cleaned_data["username"])
            except EngineError as error:
                form.add_error("username", " ".join(lines(error)))
            else:
                return redirect("draft-editors", pk)
    context = {"plan": plan, "editors": plan.editors.order_by("name"), "form": form}
    status = 422 if form.errors else 200
    return render(request, "projects/draft_editors.html", context, status=status)
