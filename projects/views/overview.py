"""Every student of a class on one page."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from projects.access import get_class_staffed
from projects.present.class_page import class_rows


@require_safe
@login_required
def class_detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Show every student of a class: what they logged and what comes next."""
    shop_class = get_class_staffed(request, pk)
    builds = shop_class.builds.present().with_plan().prefetch_related("readings")
    context = {
        "shop_class": shop_class,
        "students": class_rows(builds),
        "behind": shop_class.builds.behind_newest().count(),
    }
    return render(request, "projects/class_detail.html", context)


@login_required
def class_overview_file(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    raise Http404
