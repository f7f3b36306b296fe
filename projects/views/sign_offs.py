"""Signing a student off on a machine, and a whole class in one look."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from projects import actions, pins, signoffs
from projects.access import get_class_staffed, signed_in
from projects.engine.errors import EngineError
from projects.machine_access import get_build_machine
from projects.models import Build, Machine, User
from projects.present.machines import class_rows, history
from projects.printing import pdf as printing
from projects.signoff_forms import SignOffForm
from projects.words import words


@sensitive_post_parameters("pin")
@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def sign_off(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    """Record what was met, sign off, renew or withdraw, by the PIN of who signs."""
    build, of_shop = get_build_machine(request, pk, machine)
    shop_class = get_class_staffed(request, build.shop_class_id, "may_sign")
    user, today = signed_in(request), timezone.localdate()
    if shop_class.archived_at is not None or build.student_id == user.pk:
        raise PermissionDenied
    record = signoffs.machine_record(build.student_id, of_shop, today=today)
    form = SignOffForm(
        request.POST if request.method == "POST" else None,
        record=record,
        signers=signoffs.signers_of(shop_class, student=build.student_id),
        by=user,
        today=today,
    )
    if request.method == "POST" and form.is_valid() and _kept(request, build, form):
        return redirect("build-machine", pk, machine)
    checks = of_shop.checks_taken.filter(student=build.student_id)
    context = {
        "build": build,
        "machine": of_shop,
        "record": record,
        "form": form,
        "user_lacks_pin": not user.pin,
        "history": history(record, checks.select_related("student").defer("answers")),
    }
    status = 422 if form.errors else 200
    return render(request, "projects/sign_off.html", context, status=status)


def _kept(request: HttpRequest, build: Build, form: SignOffForm) -> bool:
    """Record what the form says, once its signer's PIN is right; tell why not on it."""
    signer = form.signer_user()
    if not _has_signed(request, signer, form):
        return False
    try:
        actions.record_sign_off(
            build.student,
            form.record.machine,
            by=signer,
            changes=form.changes(),
            act=form.wanted_act(),
        )
    except EngineError as error:
        form.add_error("act", words(error))
        return False
    return True


def _has_signed(request: HttpRequest, signer: User, form: SignOffForm) -> bool:
    if not signer.pin:
        error = _("%(name)s has set no signing PIN yet.") % {"name": signer.name}
    elif pins.is_confirmed(request, signer, form.cleaned_data["pin"]):
        return True
    else:
        error = _("This is not the signing PIN of %(name)s.") % {"name": signer.name}
    form.add_error("pin", error)
    return False


@require_safe
@login_required
def class_sign_offs(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a class's students by machines; one machine alone with `?machine=`."""
    shop_class = get_class_staffed(request, pk)
    machines = list(Machine.objects.filter(shop=shop_class.shop_id, retired_at=None))
    chosen = request.GET.get("machine", "")
    shown = [machine for machine in machines if str(machine.pk) == chosen] or machines
    builds = list(shop_class.builds.present().select_related("student"))
    records = signoffs.machine_records(
        [build.student_id for build in builds], shown, today=timezone.localdate()
    )
    context = {
        "shop_class": shop_class,
        "machines": machines,
        "shown": shown,
        "chosen": shown[0] if len(shown) < len(machines) else None,
        "rows": class_rows(builds, shown, records),
        "can_print": printing.can_print(),
    }
    return render(request, "projects/class_sign_offs.html", context)
