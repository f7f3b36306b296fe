"""The record of sign-offs to print and to take away."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from projects import adapters, signoffs
from projects.access import get_build, get_class_staffed
from projects.models import CheckTaken, Machine, Revision, ShopClass
from projects.present.machines import ClassRow, class_rows
from projects.present.safety_record import header, machine_blocks, table_rows
from projects.printing.pdf import PAPERS, BusyError, NoPangoError
from projects.printing.safety_record import safety_record_pdf as make_record
from projects.printing.sign_offs import sign_offs_pdf as make_sign_offs
from projects.tables import Kind, table_response


@require_safe
@login_required
def class_sign_offs_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a class's sign-offs as a PDF, on Letter or on A4 (`?paper=`)."""
    shop_class = get_class_staffed(request, pk)
    paper = _paper(request, shop_class.revision)
    machines, rows = _class_rows(shop_class)

    def make() -> bytes:
        at = timezone.now()
        return make_sign_offs(shop_class, machines, rows, paper=paper, at=at)

    return _pdf(
        request,
        make,
        name=f"sign-offs-{pk}-{paper}.pdf",
        otherwise=redirect("class-sign-offs", pk),
    )


@require_safe
@login_required
def safety_record_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Give all that was recorded of one student at the shop's machines as a PDF."""
    build = get_build(request, pk)
    paper = _paper(request, build.revision)
    machines = list(Machine.objects.filter(shop=build.shop_class.shop_id))
    records = signoffs.machine_records(
        [build.student_id], machines, today=timezone.localdate()
    )
    checks = (
        CheckTaken.objects.filter(student=build.student_id, machine__in=machines)
        .select_related("student")
        .defer("answers")
    )
    blocks = machine_blocks(list(records.values()), checks)

    def make() -> bytes:
        return make_record(build, blocks, paper=paper, at=timezone.now())

    return _pdf(
        request,
        make,
        name=f"safety-record-{pk}-{paper}.pdf",
        otherwise=redirect("build-machines", pk),
    )


@require_safe
@login_required
def class_sign_offs_file(request: HttpRequest, pk: int, kind: Kind) -> HttpResponse:
    """Give a class's sign-offs as a table: CSV or ODS."""
    shop_class = get_class_staffed(request, pk)
    _machines, rows = _class_rows(shop_class)
    return table_response(f"sign-offs-{pk}", kind, header(), table_rows(rows))


def _class_rows(shop_class: ShopClass) -> tuple[list[Machine], list[ClassRow]]:
    machines = list(Machine.objects.filter(shop=shop_class.shop_id, retired_at=None))
    builds = list(shop_class.builds.present().select_related("student"))
    records = signoffs.machine_records(
        [build.student_id for build in builds], machines, today=timezone.localdate()
    )
    return machines, class_rows(builds, machines, records)


def _paper(request: HttpRequest, revision: Revision) -> str:
    paper = request.GET.get("paper", "")
    if paper in PAPERS:
        return paper
    return "letter" if adapters.plan_of(revision).units == "in" else "a4"


def _pdf(
    request: HttpRequest,
    make: Callable[[], bytes],
    *,
    name: str,
    otherwise: HttpResponse,
) -> HttpResponse:
    """Give a PDF; where none can be made go to the page that says so."""
    try:
        made = make()
    except NoPangoError:
        return otherwise
    except BusyError:
        return render(request, "projects/busy.html", status=503)
    return HttpResponse(
        made,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )
