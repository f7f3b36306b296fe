"""The machines of a shop as one student stands with them."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from projects import actions, signoffs
from projects.access import get_build, get_build_to_log, signed_in
from projects.machine_access import get_build_machine
from projects.models import Machine, MachinePhoto, Requirement
from projects.present.machines import history, machine_sheet
from projects.printing import pdf as printing


@require_safe
@login_required
def build_machines(request: HttpRequest, pk: int) -> HttpResponse:
    """List the shop's machines: signed off or not, and what is still asked."""
    build = get_build(request, pk)
    machines = Machine.objects.filter(shop=build.shop_class.shop_id, retired_at=None)
    records = signoffs.machine_records(
        [build.student_id], list(machines), today=timezone.localdate()
    )
    context = {
        "build": build,
        "records": list(records.values()),
        "is_own": build.student_id == signed_in(request).pk,
        "can_print": printing.can_print(),
    }
    return render(request, "projects/build_machines.html", context)


@require_safe
@login_required
def build_machine(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    """Show a machine's sheet, what it asks of this student, and the whole record."""
    build, of_shop = get_build_machine(request, pk, machine)
    user = signed_in(request)
    record = signoffs.machine_record(
        build.student_id, of_shop, today=timezone.localdate()
    )
    checks = of_shop.checks_taken.filter(student=build.student_id)
    is_own = build.student_id == user.pk
    lacking = {requirement.kind for requirement in record.lacking}
    can_write = is_own and build.shop_class.archived_at is None
    context = {
        "build": build,
        "machine": of_shop,
        "sheet": machine_sheet(of_shop),
        "photo": MachinePhoto.objects.filter(machine=of_shop)
        .values("width", "height")
        .first(),
        "record": record,
        "history": history(record, checks.select_related("student").defer("answers")),
        "is_own": is_own,
        "can_read": can_write and Requirement.Kind.SHEET in lacking,
        "can_check": can_write
        and any(one.requirement.kind == Requirement.Kind.CHECK for one in record.asked),
        "may_sign": signoffs.may_sign(user, build),
    }
    return render(request, "projects/build_machine.html", context)


@require_POST
@login_required
def machine_read(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    """Record that the student says they read the machine's sheet."""
    build, of_shop = get_build_machine(request, pk, machine)
    get_build_to_log(request, pk)  # a 403 in an archived class
    if build.student_id != signed_in(request).pk:
        raise PermissionDenied
    actions.record_sheet_read(build.student, of_shop)
    return redirect("build-machine", pk, machine)
