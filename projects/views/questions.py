"""The questions of a machine's written check."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from projects import actions
from projects.access import get_machine
from projects.actions.machines import questions_missing
from projects.check_forms import QuestionForm
from projects.models import Machine, Question
from projects.views.requirements import as_number, number_sent


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def machine_questions(request: HttpRequest, pk: int) -> HttpResponse:
    """List a machine's questions; add one, change one (`?change=`), retire one."""
    machine = get_machine(request, pk)
    changed = _question(
        machine, request.POST.get("change") or request.GET.get("change")
    )
    form = QuestionForm.of(changed) if changed else QuestionForm()
    if request.method == "POST":
        op = request.POST.get("op", "keep")
        if op == "keep":
            form = QuestionForm(request.POST)
            done = _keep(machine, changed, form)
        else:
            _other_op(request, machine, op)
            done = True
        if done:
            return redirect("machine-questions", pk)
    rows = list(machine.questions.all())
    context = {
        "machine": machine,
        "questions": [_with_answer(row) for row in rows if row.retired_at is None],
        "retired": [_with_answer(row) for row in rows if row.retired_at],
        "missing_count": len(questions_missing(machine)),
        "changed": changed,
        "form": form,
    }
    status = 422 if form.errors else 200
    return render(request, "projects/machine_questions.html", context, status=status)


def _question(machine: Machine, number: str | None) -> Question | None:
    """Return the question to change, None where none is named."""
    if not number:
        return None
    asked = machine.questions.filter(retired_at=None)
    return get_object_or_404(asked, pk=as_number(number))


def _with_answer(question: Question) -> tuple[Question, str]:
    return question, question.choices[question.right]


def _keep(machine: Machine, changed: Question | None, form: QuestionForm) -> bool:
    if not form.is_valid():
        return False
    asked = form.cleaned_data["asked"]
    if changed is None:
        actions.add_question(machine, asked)
    else:
        actions.change_question(changed, asked)
    return True


def _other_op(request: HttpRequest, machine: Machine, op: str) -> None:
    if op == "supplied":
        actions.add_supplied_questions(machine)
        return
    question = get_object_or_404(machine.questions, pk=number_sent(request, "question"))
    if op == "retire":
        actions.retire(question)
    elif op == "take-back":
        actions.take_back(question)
