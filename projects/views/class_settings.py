"""What a class is called, when its term is, and whether it is archived."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from projects import actions
from projects.access import get_class_taught, need_open
from projects.class_forms import SettingsForm


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def class_settings(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a class's title and term, and lead to all else about it; change them."""
    shop_class = get_class_taught(request, pk)
    data = request.POST if request.method == "POST" else None
    form = SettingsForm(
        data,
        initial={
            "title": shop_class.title,
            "starts_on": shop_class.starts_on,
            "ends_on": shop_class.ends_on,
        },
    )
    if request.method == "POST":
        need_open(shop_class)
        if form.is_valid():
            actions.set_class(shop_class, **form.cleaned_data)
            return redirect("class-settings", pk)
    context = {"shop_class": shop_class, "form": form}
    status = 422 if form.errors else 200
    return render(request, "projects/class_settings.html", context, status=status)


@require_POST
@login_required
def class_archive(request: HttpRequest, pk: int) -> HttpResponse:
    """Archive a class; with `reopen`, open it again."""
    shop_class = get_class_taught(request, pk)
    if "reopen" in request.POST:
        actions.reopen_class(shop_class)
    else:
        actions.archive_class(shop_class)
    return redirect("class-settings", pk)
