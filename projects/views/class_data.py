"""A class's data: taken along whole, or erased."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from projects import erasing
from projects.access import get_class_taught
from projects.class_export import class_zip
from projects.class_forms import TypedForm
from projects.models import Membership
from projects.printing import packs


@require_safe
@login_required
def class_export(request: HttpRequest, pk: int) -> HttpResponse:
    """Give everything recorded about a class as a zip."""
    shop_class = get_class_taught(request, pk)
    now = timezone.now()
    name = f"class-{pk}-{timezone.localdate(now).isoformat()}.zip"
    return HttpResponse(
        class_zip(shop_class, at=now),
        content_type="application/zip",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def class_delete(request: HttpRequest, pk: int) -> HttpResponse:
    """Say what goes with a class and what stays; delete it once its title is typed."""
    shop_class = get_class_taught(request, pk)
    data = request.POST if request.method == "POST" else None
    form = TypedForm(data, called=shop_class.title)
    if request.method == "POST" and form.is_valid():
        erasing.erase_class(shop_class)
        packs.forget_class(pk)
        return redirect("class-list")
    context = {
        "shop_class": shop_class,
        "form": form,
        "goes": erasing.stake_of_class(shop_class),
    }
    status = 422 if form.errors else 200
    return render(request, "projects/class_delete.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def student_delete(request: HttpRequest, pk: int, student: int) -> HttpResponse:
    """Say what goes with a student and what stays; delete once their name is typed."""
    shop_class = get_class_taught(request, pk)
    students = shop_class.memberships.select_related("user", "shop_class")
    # by `user__pk`: a number too large for any row then finds none
    membership = get_object_or_404(
        students, user__pk=student, role=Membership.Role.STUDENT
    )
    data = request.POST if request.method == "POST" else None
    form = TypedForm(data, called=membership.user.name)
    if request.method == "POST" and form.is_valid():
        erasing.erase_student(membership)
        packs.forget_class(pk)
        return redirect("class-roster", pk)
    context = {
        "shop_class": shop_class,
        "student": membership.user,
        "form": form,
        "goes": erasing.stake_of_student(membership),
    }
    status = 422 if form.errors else 200
    return render(request, "projects/student_delete.html", context, status=status)
