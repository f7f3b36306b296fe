"""What a machine asks before somebody is signed off on it."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from projects import actions
from projects.access import get_machine
from projects.actions.machines import usual_missing
from projects.check_forms import RequirementForm, RewordForm
from projects.engine.errors import EngineError
from projects.models import Machine
from projects.present.requirements import requirement_lines
from projects.words import lines


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def machine_requirements(request: HttpRequest, pk: int) -> HttpResponse:
    """List what a machine asks; add to it, retire from it, put into other words."""
    machine = get_machine(request, pk)
    form, reword, problems = RequirementForm(), None, []
    if request.method == "POST":
        op = request.POST.get("op", "add")
        if op == "add":
            form = RequirementForm(request.POST)
            if form.is_valid():
                actions.add_requirement(machine, **form.cleaned_data)
        elif op == "reword":
            reword = RewordForm(request.POST)
            problems = _reword(request, machine, reword)
        else:
            _other_op(request, machine, op)
        if not (form.errors or problems or (reword and reword.errors)):
            return redirect("machine-requirements", pk)
    rows = requirement_lines(machine, reword, request.POST.get("requirement", ""))
    context = {
        "machine": machine,
        "lines": [line for line in rows if line.requirement.retired_at is None],
        "retired": [line for line in rows if line.requirement.retired_at],
        "usual_missing": usual_missing(machine),
        "form": form,
        "problems": problems,
    }
    status = 422 if request.method == "POST" else 200
    return render(request, "projects/machine_requirements.html", context, status=status)


def _reword(request: HttpRequest, machine: Machine, form: RewordForm) -> list[str]:
    """Change a requirement's words; return why they stay."""
    requirement = get_object_or_404(
        machine.requirements, pk=number_sent(request, "requirement")
    )
    if form.is_valid():
        try:
            actions.reword_requirement(requirement, **form.cleaned_data)
        except EngineError as error:
            return lines(error)
    return []


def _other_op(request: HttpRequest, machine: Machine, op: str) -> None:
    if op == "usual":
        actions.add_usual_requirements(machine)
        return
    requirement = get_object_or_404(
        machine.requirements, pk=number_sent(request, "requirement")
    )
    if op == "retire":
        actions.retire(requirement)
    elif op == "take-back":
        actions.take_back(requirement)


def number_sent(request: HttpRequest, name: str) -> int:
    """Return a row's number that a form sent, 0 where it is none."""
    return as_number(request.POST.get(name, ""))


def as_number(typed: str) -> int:
    """Return a row's number, 0 where `typed` can be none."""
    return int(typed) if typed.isdecimal() and len(typed) < 10 else 0
