"""What the checks find in a plan, and the shop they hold it against."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from projects import adapters, shops
from projects.access import get_plan, need_instructor
from projects.engine.fit.solve import check_plan
from projects.forms import AcceptanceForm
from projects.models import Shop
from projects.present.findings import findings
from projects.shop_forms import ShopForm
from projects.showing import showing_for


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def plan_checks(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what the checks find in a plan's newest revision; note what is accepted."""
    plan = get_plan(request, pk)
    user = need_instructor(request)
    newest = plan.revisions.order_by("number").last()
    if newest is None:
        raise Http404
    form = AcceptanceForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        plan.acceptances.create(**form.cleaned_data, at=timezone.now(), by=user)
        return redirect("plan-checks", pk)
    read = adapters.plan_of(newest)
    lines = findings(
        check_plan(read),
        shops.limits_of(user),
        plan.acceptances.select_related("by"),
        showing_for(request, read),
    )
    context = {"plan": plan, "revision": newest, "lines": lines}
    status = 422 if form.errors else 200
    return render(request, "projects/plan_checks.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def shop_edit(request: HttpRequest) -> HttpResponse:
    """Say what the instructor's shop takes and allows."""
    user = need_instructor(request)
    shop = Shop.objects.filter(owner=user).first()
    if request.method == "POST":
        form = ShopForm(request.POST)
        if form.is_valid():
            Shop.objects.update_or_create(
                owner=user, defaults={"limits": form.cleaned_data}
            )
            return redirect("shop-edit")
    else:
        form = ShopForm(shop.limits if shop else None)
    context = {"form": form, "lines": shops.form_lines(form)}
    status = 422 if request.method == "POST" else 200
    return render(request, "projects/shop_edit.html", context, status=status)
