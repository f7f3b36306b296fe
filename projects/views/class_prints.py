"""All that a class prints, and the pack of its cut sheets."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import FileResponse, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from projects import adapters, class_pack
from projects.access import get_class_staffed, signed_in
from projects.http import HtmxRequest, respond
from projects.models import ShopClass
from projects.printing import packs
from projects.printing.pdf import PAPERS, can_print
from projects.showing import showing_for


@require_safe
@login_required
def class_prints(request: HttpRequest, pk: int) -> HttpResponse:
    """List all that can be printed or taken along."""
    shop_class = get_class_staffed(request, pk)
    context = {
        "shop_class": shop_class,
        "builds": shop_class.builds.present().select_related("student"),
        "owns_shop": shop_class.shop.owner_id == signed_in(request).pk,
        "can_print": can_print(),
    }
    return render(request, "projects/class_prints.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def class_pack_page(request: HtmxRequest, pk: int) -> HttpResponse:
    """Begin to make the class pack, or show how far it is (`?pack=`)."""
    shop_class = get_class_staffed(request, pk)
    if request.method == "POST":
        return _begin(request, shop_class)
    name = request.GET.get("pack", "")
    made = packs.find(name) if _is_of(shop_class, name) else None
    context = {
        "shop_class": shop_class,
        "name": name,
        "pack": made,
        "can_print": can_print(),
        "units": adapters.plan_of(shop_class.revision).units,
    }
    page, live = "projects/class_pack.html", "projects/_pack.html"
    return respond(request, page, live, context)


def _begin(request: HtmxRequest, shop_class: ShopClass) -> HttpResponse:
    plan = adapters.plan_of(shop_class.revision)
    showing = showing_for(request, plan)
    paper = request.POST.get("paper", "")
    if paper not in PAPERS:
        paper = "letter" if plan.units == "in" else "a4"
    today = timezone.localdate()
    rows = class_pack.rows_of(shop_class, today=today)
    name = class_pack.digest(
        shop_class, rows, paper=paper, showing=showing, today=today
    )
    made = packs.find(name)
    if made is None or made.failed:
        sheets, left_out = class_pack.solved(rows)
        if not sheets or not can_print():
            return redirect("class-pack", shop_class.pk)
        made = packs.start(
            name,
            lambda: class_pack.written(sheets, showing),
            total=len(sheets),
            paper=paper,
            left_out=left_out,
        )
    address = "class-pack-pdf" if made.is_made else "class-pack"
    return redirect(f"{reverse(address, args=[shop_class.pk])}?pack={name}")


@require_safe
@login_required
def class_pack_pdf(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Give a pack that is made (`?pack=`)."""
    shop_class = get_class_staffed(request, pk)
    name = request.GET.get("pack", "")
    made = packs.find(name) if _is_of(shop_class, name) else None
    if made is None or made.path is None:
        return redirect("class-pack", pk)
    return FileResponse(
        made.path.open("rb"),
        content_type="application/pdf",
        filename=f"class-pack-{pk}.pdf",
    )


def _is_of(shop_class: ShopClass, name: str) -> bool:
    return name.startswith(f"{shop_class.pk}-")
