"""The classes somebody runs."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.db import IntegrityError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from projects import actions, adapters
from projects.access import get_class_taught, need_instructor, need_open, signed_in
from projects.engine.errors import EngineError
from projects.models import ShopClass
from projects.present.move_page import build_changes
from projects.roster_forms import ClassForm
from projects.showing import showing_for
from projects.words import lines


@require_safe
@login_required
def class_list(request: HttpRequest) -> HttpResponse:
    """List the classes somebody teaches or helps in, and what they build themselves."""
    user = signed_in(request)
    staffed = ShopClass.objects.staffed_by(user).with_rights_of(user)
    classes = list(staffed.with_counts())
    if not classes:
        need_instructor(request)
    context = {
        "classes": [one for one in classes if one.archived_at is None],
        "archived": [one for one in classes if one.archived_at is not None],
        "builds": user.builds.present().with_plan(),
    }
    return render(request, "projects/class_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def class_create(request: HttpRequest) -> HttpResponse:
    """Open a class; its roster, from which join cards are printed, comes next."""
    user = need_instructor(request)
    data = request.POST if request.method == "POST" else None
    form = ClassForm(data, user=user)
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data
        students = actions.new_people(given["roster"])
        try:
            shop_class = actions.open_class(
                user,
                title=given["title"],
                revision=given["revision"],
                students=students,
            )
        except IntegrityError:
            # two classes drew the same code at this moment
            form.add_error("roster", _("That could not be kept; send it again."))
        else:
            return redirect("class-roster", shop_class.pk)
    status = 422 if form.errors else 200
    return render(request, "projects/class_create.html", {"form": form}, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def class_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what the newest revision changes for each student; move those chosen."""
    shop_class = get_class_taught(request, pk)
    newest = shop_class.revision.plan.revisions.order_by("number").last()
    if newest is None:
        raise Http404
    builds = list(
        shop_class.builds.with_plan()
        .exclude(revision=newest)
        .prefetch_related("readings", "marks")
    )
    problems: list[str] = []
    if request.method == "POST":
        need_open(shop_class)
        chosen = set(request.POST.getlist("build"))
        moved = [build for build in builds if str(build.pk) in chosen]
        try:
            actions.move_builds(shop_class, moved, newest, by=signed_in(request))
        except EngineError as error:
            problems = lines(error)
        else:
            return redirect("class-detail", pk)
    showing = showing_for(request, adapters.plan_of(newest))
    context = {
        "shop_class": shop_class,
        "newest": newest,
        "students": build_changes(builds, newest, showing),
        "problems": problems,
    }
    status = 422 if problems else 200
    return render(request, "projects/class_move.html", context, status=status)
