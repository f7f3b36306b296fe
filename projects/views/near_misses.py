"""The private log of near misses and injuries of a class."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from projects import actions, adapters
from projects.access import get_class_taught, need_open, signed_in
from projects.class_forms import AdditionForm, NearMissForm
from projects.models import Machine, NearMiss, ShopClass
from projects.models.append_only import AppendOnlyQuerySet
from projects.present.near_misses import Entry, near_miss_entries
from projects.printing import pdf as printing
from projects.printing.near_misses import near_miss_pdf as make_pdf
from projects.printing.pdf import PAPERS, BusyError, NoPangoError
from projects.views.requirements import number_sent


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def near_miss_list(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the log, newest first; log what happened."""
    shop_class = get_class_taught(request, pk)
    if "follows" in request.POST:
        return _add(request, shop_class)
    form = _form(shop_class, request.POST if request.method == "POST" else None)
    if request.method == "POST":
        need_open(shop_class)
        if form.is_valid():
            actions.log_near_miss(
                shop_class, by=signed_in(request), **form.cleaned_data
            )
            return redirect("near-miss-list", pk)
    return _page(request, shop_class, form)


def _add(request: HttpRequest, shop_class: ShopClass) -> HttpResponse:
    """Add to an entry."""
    need_open(shop_class)
    entry = get_object_or_404(
        _rows(shop_class), pk=number_sent(request, "follows"), follows=None
    )
    addition = _addition(entry, request.POST)
    if addition.is_valid():
        actions.add_to_near_miss(entry, by=signed_in(request), **addition.cleaned_data)
        return redirect("near-miss-list", shop_class.pk)
    return _page(request, shop_class, _form(shop_class), {entry.pk: addition})


def _page(
    request: HttpRequest,
    shop_class: ShopClass,
    form: NearMissForm,
    wrong: dict[int, AdditionForm] | None = None,
) -> HttpResponse:
    wrong = wrong or {}
    lines = [
        (entry, wrong.get(entry.first.pk) or _addition(entry.first))
        for entry in _entries(shop_class)
    ]
    context = {
        "shop_class": shop_class,
        "form": form,
        "lines": lines,
        "can_print": printing.can_print(),
    }
    status = 422 if form.errors or wrong else 200
    return render(request, "projects/near_miss_list.html", context, status=status)


def _form(shop_class: ShopClass, data: QueryDict | None = None) -> NearMissForm:
    machines = Machine.objects.filter(shop=shop_class.shop_id, retired_at=None)
    return NearMissForm(data, machines=machines)


def _addition(entry: NearMiss, data: QueryDict | None = None) -> AdditionForm:
    return AdditionForm(
        data,
        auto_id=f"id_{entry.pk}_%s",
        initial={"kind": entry.kind},
    )


def _rows(shop_class: ShopClass) -> AppendOnlyQuerySet[NearMiss]:
    return shop_class.near_misses.select_related("by", "machine").order_by("pk")


def _entries(shop_class: ShopClass) -> list[Entry]:
    return near_miss_entries(_rows(shop_class))


@require_safe
@login_required
def near_miss_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Print the log for the office, on Letter or on A4 (`?paper=`)."""
    shop_class = get_class_taught(request, pk)
    paper = request.GET.get("paper", "")
    if paper not in PAPERS:
        units = adapters.plan_of(shop_class.revision).units
        paper = "letter" if units == "in" else "a4"
    try:
        made = make_pdf(
            shop_class, _entries(shop_class), paper=paper, at=timezone.now()
        )
    except NoPangoError:
        # the page says so, and prints through the browser
        return redirect("near-miss-list", pk)
    except BusyError:
        return render(request, "projects/busy.html", status=503)
    name = f"near-misses-{pk}-{paper}.pdf"
    return HttpResponse(
        made,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )
