"""Join cards and the roster with their codes, on paper."""

from __future__ import annotations

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.http.request import validate_host
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from projects import addresses
from projects.access import get_class_staffed, signed_in
from projects.adapters import plan_of
from projects.members import Member, members_of, with_cards
from projects.models import ShopClass
from projects.present.join_cards import join_cards
from projects.printing import pdf as printing
from projects.printing.join_cards import join_cards_pdf
from projects.printing.pdf import PAPERS, BusyError, NoPangoError
from projects.printing.roster import roster_pdf
from projects.roster_forms import CardsForm


@require_safe
@login_required
def class_cards(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose which cards are printed, and the address on them."""
    shop_class = get_class_staffed(request, pk, "may_roster")
    everybody = members_of(shop_class, signed_in(request))
    form = CardsForm(_asked(request), scheme=request.scheme or "http")
    form.is_valid()
    chosen = _chosen(form, everybody)
    site = form.cleaned_data.get("at", "")
    one = form.cleaned_data.get("student")
    can_print = printing.can_print()
    # a single card can be held out to a phone; all of them only where no PDF is made
    shown = chosen if site and (one or not can_print) else []
    context = {
        "shop_class": shop_class,
        "form": form,
        "chosen": chosen,
        "one": chosen[0] if one and chosen else None,
        "without_card": _without_card(everybody),
        "others": _own_sites(request)[1:],
        "is_local": addresses.is_loopback(_host(request)),
        "is_deaf": bool(site) and not _answers(site),
        "is_unreached": addresses.is_loopback(addresses.host_of(site)),
        "is_new": "new" in request.GET,
        "cards": join_cards(shown, shop_class, site),
        "can_print": can_print,
    }
    status = 422 if form.errors else 200
    return render(request, "projects/class_cards.html", context, status=status)


@require_safe
@login_required
def class_cards_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Give the cards as a PDF, on Letter or on A4 (`?paper=`)."""
    shop_class = get_class_staffed(request, pk, "may_roster")
    form = CardsForm(_asked(request), scheme=request.scheme or "http")
    chosen: list[Member] = []
    if form.is_valid():
        chosen = _chosen(form, members_of(shop_class, signed_in(request)))
    page = f"{reverse('class-cards', args=[pk])}?{request.GET.urlencode()}"
    if not chosen:
        return redirect(page)  # it says what is wrong, or that nobody needs one
    paper = _paper(request, shop_class)
    cards = join_cards(chosen, shop_class, form.cleaned_data["at"])
    try:
        made = join_cards_pdf(shop_class, cards, paper=paper)
    except NoPangoError:
        return redirect(page)
    except BusyError:
        return render(request, "projects/busy.html", status=503)
    return _as_file(made, f"join-cards-{pk}-{paper}.pdf")


@require_safe
@login_required
def class_roster_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Give the roster with its codes as a PDF, on Letter or on A4 (`?paper=`)."""
    shop_class = get_class_staffed(request, pk, "may_roster")
    students = [
        one
        for one in members_of(shop_class, signed_in(request))
        if one.is_student and not one.has_left
    ]
    paper = _paper(request, shop_class)
    try:
        made = roster_pdf(shop_class, students, paper=paper, at=timezone.now())
    except NoPangoError:
        return redirect("class-roster", pk)
    except BusyError:
        return render(request, "projects/busy.html", status=503)
    return _as_file(made, f"roster-{pk}-{paper}.pdf")


def _asked(request: HttpRequest) -> QueryDict:
    """Return what was asked for, with the address that phones likely reach."""
    asked = request.GET.copy()
    if "at" not in asked:
        asked["at"] = _proposed(request)
    asked.setdefault("who", "new")
    return asked


def _proposed(request: HttpRequest) -> str:
    return next(iter(_own_sites(request)), request.get_host())


def _own_sites(request: HttpRequest) -> list[str]:
    """List what phones may type, where the page was asked for at the server itself."""
    own = _host(request)
    if not addresses.is_loopback(own):
        return []
    port = request.get_host().removeprefix(own)
    return [f"{host}{port}" for host in addresses.for_other_devices()]


def _host(request: HttpRequest) -> str:
    return addresses.host_of(f"{request.scheme}://{request.get_host()}")


def _answers(site: str) -> bool:
    """Tell whether this server answers to an address."""
    return validate_host(addresses.host_of(site), settings.ALLOWED_HOSTS)


def _chosen(form: CardsForm, everybody: list[Member]) -> list[Member]:
    cards = with_cards(everybody)
    one = form.cleaned_data.get("student")
    if one:
        return [member for member in cards if member.person.pk == one]
    students = [member for member in cards if member.is_student]
    if form.cleaned_data.get("who") == "all":
        return students
    return [member for member in students if not member.person.has_joined]


def _without_card(everybody: list[Member]) -> list[Member]:
    return [
        one for one in everybody if one.is_student and not one.has_left and not one.code
    ]


def _paper(request: HttpRequest, shop_class: ShopClass) -> str:
    paper = request.GET.get("paper", "")
    if paper in PAPERS:
        return paper
    return "letter" if plan_of(shop_class.revision).units == "in" else "a4"


def _as_file(made: bytes, name: str) -> HttpResponse:
    return HttpResponse(
        made,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )
