"""The machines of an instructor's shop."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.cache import patch_cache_control
from django.views.decorators.http import require_http_methods, require_safe

from projects import actions
from projects.access import get_machine, need_instructor
from projects.actions.machines import kinds_wanted
from projects.engine.shop.equipment import WHERE_FROM
from projects.machine_access import get_machine_photo
from projects.models import Machine, Shop
from projects.pictures import MAX_UPLOAD_BYTES, PictureError, clean
from projects.present.equipment import kind_names, limit_lines
from projects.printing import pdf as printing
from projects.shop_forms import MachineEditForm, MachineForm
from projects.words import lines

_YEAR_S = 31_536_000
_TEN_MINUTES_S = 600


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def machine_list(request: HttpRequest) -> HttpResponse:
    """List the machines of the shop; add one, or all that the plans use."""
    user = need_instructor(request)
    form = MachineForm()
    if request.method == "POST":
        shop, _made = Shop.objects.get_or_create(owner=user)
        if request.POST.get("op") == "wanted":
            actions.add_machines_wanted(user, shop)
            return redirect("machine-list")
        form = MachineForm(request.POST)
        if form.is_valid():
            machine = actions.add_machine(shop, **form.cleaned_data)
            return redirect("machine-detail", machine.pk)
    machines = list(Machine.objects.filter(shop__owner=user))
    in_use = [machine for machine in machines if machine.retired_at is None]
    there = {machine.kind for machine in in_use}
    missing = [kind for kind in kinds_wanted(user) if kind not in there]
    context = {
        "machines": list(zip(in_use, kind_names(m.kind for m in in_use), strict=True)),
        "retired": [machine for machine in machines if machine.retired_at],
        "missing": kind_names(missing),
        "form": form,
        "can_print": printing.can_print(),
    }
    status = 422 if form.errors else 200
    return render(request, "projects/machine_list.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def machine_detail(request: HttpRequest, pk: int) -> HttpResponse:
    """Change one machine: what is written down of it, its photo, whether it is used."""
    machine = get_machine(request, pk)
    form = MachineEditForm.of(machine)
    problems: list[str] = []
    if request.method == "POST":
        op = request.POST.get("op", "keep")
        if op == "keep":
            form = MachineEditForm(request.POST, machine=machine)
            done = _keep(machine, form)
        else:
            problems = _other_op(request, machine, op)
            done = not problems
        if done:
            return redirect("machine-detail", pk)
    [kind] = kind_names([machine.kind])
    context = {
        "machine": machine,
        "kind": kind,
        "form": form,
        "limits": limit_lines(form, machine),
        "where_from": WHERE_FROM,
        "photo": actions.photo_stamp(machine),
        "photo_problems": problems,
        "can_print": printing.can_print(),
    }
    status = 422 if form.errors or problems else 200
    return render(request, "projects/machine_detail.html", context, status=status)


def _keep(machine: Machine, form: MachineEditForm) -> bool:
    if form.is_valid():
        actions.change_machine(machine, **form.cleaned_data)
    return form.is_valid()


def _other_op(request: HttpRequest, machine: Machine, op: str) -> list[str]:
    """Do what else can be done with a machine; return why a photo was not taken."""
    if op == "photo":
        file = request.FILES.get("photo")
        data = file.read(MAX_UPLOAD_BYTES + 1) if file else b""
        try:
            picture = clean(data, file_name=file.name or "" if file else "photo")
        except PictureError as error:
            return lines(error)
        actions.keep_photo(machine, picture)
    elif op == "remove-photo":
        actions.remove_photo(machine)
    elif op == "retire":
        actions.retire(machine)
    elif op == "take-back":
        actions.take_back(machine)
    return []


@require_safe
@login_required
def machine_photo(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a machine's photo; with `?at=`, when it was kept, it never changes."""
    photo = get_machine_photo(request, pk)
    response = HttpResponse(bytes(photo.data), content_type="image/jpeg")
    age = _YEAR_S if "at" in request.GET else _TEN_MINUTES_S
    patch_cache_control(response, private=True, max_age=age)
    return response
