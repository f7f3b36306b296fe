"""The written check of a machine: taking it, and what came of it."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from projects import actions
from projects.access import need_open, signed_in
from projects.check_forms import CheckForm
from projects.machine_access import get_build_machine
from projects.models import CheckTaken
from projects.present.equipment import answer_lines
from projects.views.requirements import as_number


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def written_check(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    """Ask a student all questions at once and mark them; `?taken=` shows the result.

    Staff see the questions, and answer none.
    """
    build, asks = get_build_machine(request, pk, machine)
    student = build.student
    is_own = student == signed_in(request)
    questions = list(asks.questions.filter(retired_at=None))
    context = {
        "build": build,
        "machine": asks,
        "is_own": is_own,
        "form": CheckForm(questions=questions),
    }
    if request.method == "POST":
        if not is_own or not questions:
            raise PermissionDenied
        need_open(build.shop_class)
        form = CheckForm(request.POST, questions=questions)
        if form.is_valid():
            taken = actions.take_check(asks, student, questions, form.given)
            url = reverse("written-check", args=[pk, machine])
            return redirect(f"{url}?taken={taken.pk}")
        context["form"] = form
    elif number := request.GET.get("taken"):
        taken = get_object_or_404(
            CheckTaken,
            pk=as_number(number),
            student=student,
            machine=asks,
        )
        context |= {"taken": taken, "answers": answer_lines(taken)}
    status = 422 if request.method == "POST" else 200
    return render(request, "projects/written_check.html", context, status=status)
