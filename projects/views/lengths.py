"""What the server understands of a length being typed, and how sizes are shown."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from projects.engine.errors import LengthError
from projects.engine.units import read_length, shown
from projects.engine.units.length import UnitSystem
from projects.engine.units.show import TAPES
from projects.showing import CHOICES, SESSION_KEY


@require_safe
@login_required
def length_read(request: HttpRequest) -> HttpResponse:
    """Tell what a length being typed is understood as; nothing is kept."""
    typed = request.GET.get("length", "").strip()
    unit: UnitSystem = "mm" if request.GET.get("units") == "mm" else "in"
    tape = request.GET.get("tape", "16")
    context: dict[str, object] = {}
    if typed:
        try:
            length = read_length(typed, unit=unit, field="")
        except LengthError as error:
            context["why"] = gettext(str(error.values["why"]))
        else:
            marks = int(tape) if tape in map(str, TAPES) else 16
            context["sizes"] = [
                shown(length.mm, style="tape", tape=marks),
                shown(length.mm, style="in"),
                shown(length.mm, style="mm"),
            ]
    return render(request, "projects/_length_read.html", context)


@require_POST
@login_required
def showing_choose(request: HttpRequest) -> HttpResponse:
    """Keep how this person wants sizes shown, and go back to where they were."""
    chosen = request.POST.get("showing", "")
    if chosen in CHOICES:
        request.session[SESSION_KEY] = chosen
    back = request.POST.get("next", "")
    safe = url_has_allowed_host_and_scheme(back, allowed_hosts={request.get_host()})
    if not safe or not back.startswith("/"):
        return redirect("home")
    return HttpResponseRedirect(back)
