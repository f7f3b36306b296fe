"""The instructor's classes."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib.auth.decorators import login_required
from django.db import IntegrityError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from projects import actions, adapters
from projects.access import get_build, get_class_taught, need_instructor, signed_in
from projects.engine.errors import EngineError
from projects.forms import ClassForm
from projects.models import ShopClass
from projects.present.class_page import class_rows
from projects.present.move_page import build_changes
from projects.showing import showing_for
from projects.words import lines

SIGN_INS = "new-sign-ins"


@require_safe
@login_required
def class_list(request: HttpRequest) -> HttpResponse:
    """List the classes somebody teaches."""
    user = need_instructor(request)
    classes = ShopClass.objects.taught_by(user).with_counts()
    return render(request, "projects/class_list.html", {"classes": classes})


@require_safe
@login_required
def class_detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Show every student of a class: what they logged and what comes next."""
    shop_class = get_class_taught(request, pk)
    builds = shop_class.builds.with_plan().prefetch_related("readings")
    context = {
        "shop_class": shop_class,
        "students": class_rows(builds),
        "behind": shop_class.builds.behind_newest().count(),
    }
    return render(request, "projects/class_detail.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
@never_cache
def class_create(request: HttpRequest) -> HttpResponse:
    """Open a class; its students' first sign-ins are shown next."""
    user = need_instructor(request)
    data = request.POST if request.method == "POST" else None
    form = ClassForm(data, user=user)
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data
        sign_ins = actions.new_sign_ins(given["roster"])
        try:
            shop_class = actions.open_class(
                user,
                title=given["title"],
                revision=given["revision"],
                students=[made.user for made in sign_ins],
            )
        except IntegrityError:
            # another class took one of the sign-in names at this moment
            form.add_error("roster", _("Those names were just taken; send it again."))
        else:
            keep_sign_ins(request, shop_class, sign_ins)
            return redirect("class-sign-ins", shop_class.pk)
    status = 422 if form.errors else 200
    return render(request, "projects/class_create.html", {"form": form}, status=status)


def keep_sign_ins(
    request: HttpRequest, shop_class: ShopClass, sign_ins: Sequence[actions.NewSignIn]
) -> None:
    """Keep new sign-ins for the one page that shows them next."""
    rows = [(made.user.name, made.user.username, made.password) for made in sign_ins]
    request.session[SIGN_INS] = {"class": shop_class.pk, "rows": rows}


@require_POST
@login_required
def new_password(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a student whose password is lost a new one, shown once to the instructor."""
    build = get_build(request, pk)
    shop_class = get_class_taught(request, build.shop_class_id)
    made = actions.new_password(build.student)
    keep_sign_ins(request, shop_class, [made])
    return redirect("class-sign-ins", shop_class.pk)


@require_safe
@login_required
@never_cache
def class_sign_ins(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a new class's first sign-ins, this once: they are kept nowhere else."""
    shop_class = get_class_taught(request, pk)
    kept = request.session.get(SIGN_INS)
    if request.method != "GET" or kept is None or kept["class"] != pk:
        return redirect("class-detail", pk)
    del request.session[SIGN_INS]
    context = {"shop_class": shop_class, "sign_ins": kept["rows"]}
    return render(request, "projects/class_sign_ins.html", context)


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
        .prefetch_related("readings")
    )
    problems: list[str] = []
    if request.method == "POST":
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
