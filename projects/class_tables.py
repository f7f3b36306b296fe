"""What is recorded about a class, as tables."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from projects import class_rows
from projects.export_columns import AT, BUILD, BY, NOTE, STUDENT, Column, Table, field
from projects.models import CutMark, Hand, Reading, StepMark, WayOut


def _decimal_mm(row: Reading) -> str | None:
    return None if row.mm is None else f"{float(row.mm):.4f}"


TABLES = (
    Table(
        name="members",
        about=_("Who is, or was, in the class."),
        rows=class_rows.members,
        columns=(
            field("person", _("number of the person"), "user_id"),
            field("name", _("name"), "user.name"),
            field("role", _("instructor, assistant or student")),
            field("may_log", _("an assistant's right to log for students")),
            field("may_sign", _("an assistant's right to sign off on machines")),
            field("may_roster", _("an assistant's right to change the roster")),
            field("left_at", _("when they left; empty for who is there")),
        ),
    ),
    Table(
        name="builds",
        about=_("Which plan each student builds."),
        rows=class_rows.builds,
        columns=(
            field("build", _("number of the build"), "pk"),
            field("person", _("number of the student, as in members"), "student_id"),
            field("student", _("name of the student"), "student.name"),
            field("plan", _("title of the plan"), "revision.plan.title"),
            field("revision", _("number of its revision"), "revision.number"),
            field("let_give", _("distance agreed to give first"), "let_give"),
            field("let_give_for", _("the miscut it was agreed for"), "let_give_for"),
        ),
    ),
    Table(
        name="readings",
        about=_("What was measured; the newest of a target and point counts."),
        rows=class_rows.of_builds(Reading.objects),
        columns=(
            field("reading", _("number of the reading"), "pk"),
            *BUILD,
            field("target", _("what was measured: stock, distance or size as cut")),
            field("point", _("which place of it, from 1")),
            field("typed", _("as it was typed; empty where the place is set aside")),
            field("unit", _("unit it was typed in")),
            Column(name="length_mm", about=_("length in mm"), of=_decimal_mm),
            Column(
                name="exact_mm",
                about=_("the same, exact, as a fraction"),
                of=lambda row: None if row.mm is None else str(row.mm),
            ),
            field("instrument", _("tape or caliper")),
            field(
                "kept_after_second_look",
                _("kept although the app asked to look again"),
            ),
            AT,
            BY,
        ),
    ),
    Table(
        name="steps",
        about=_("Steps that were done, or moved back; the newest of a step counts."),
        rows=class_rows.of_builds(StepMark.objects),
        columns=(
            *BUILD,
            field("step", _("key of the step in the plan")),
            field("title", _("its title then")),
            field("done", _("done, or moved back to not done")),
            field("machine", _("kind of machine it was done at")),
            NOTE,
            AT,
            BY,
        ),
    ),
    Table(
        name="hands",
        about=_("Hands raised for help, and taken down."),
        rows=class_rows.of_builds(Hand.objects),
        columns=(*BUILD, field("raised", _("raised, or down")), NOTE, AT, BY),
    ),
    Table(
        name="moves",
        about=_("Builds moved to another revision of a plan."),
        rows=class_rows.moves,
        columns=(
            *BUILD,
            field("plan", _("title of the plan"), "new.plan.title"),
            field("from_revision", _("number of the old revision"), "old.number"),
            field("to_revision", _("number of the new revision"), "new.number"),
            AT,
            BY,
        ),
    ),
    Table(
        name="requirements",
        about=_("What students met for the machines of this shop; the newest counts."),
        rows=class_rows.requirements,
        columns=(
            *STUDENT,
            field("machine", _("name of the machine"), "requirement.machine.name"),
            field("requirement", _("the requirement as it then read"), "title"),
            field("met", _("met, or taken back")),
            field("score", _("score of a check")),
            NOTE,
            AT,
            BY,
        ),
    ),
    Table(
        name="checks",
        about=_("Written checks that students took for machines of this shop."),
        rows=class_rows.checks,
        columns=(
            field("check", _("number of the check"), "pk"),
            *STUDENT,
            field("machine", _("name of the machine"), "machine.name"),
            field("right", _("right answers")),
            field("asked", _("questions asked")),
            field("pass_mark_pct", _("share needed to pass, in percent")),
            field("passed", _("passed or not")),
            AT,
        ),
    ),
    Table(
        name="check_answers",
        about=_("The questions of those checks, and what was answered."),
        rows=class_rows.answers,
        columns=(
            field("check", _("number of the check, as in checks")),
            field("number", _("number of the question in it")),
            field("question", _("the question as it was asked")),
            field("given", _("the answer given; empty for none")),
            field("answer", _("the right answer")),
            field("is_right", _("right or not")),
            field("why", _("why")),
            field("source", _("source of the answer")),
        ),
    ),
    Table(
        name="sign_offs",
        about=_(
            "Sign-offs of students on machines of this shop; the newest of a student "
            "and a machine counts."
        ),
        rows=class_rows.sign_offs,
        columns=(
            *STUDENT,
            field("machine", _("name of the machine"), "machine.name"),
            field("act", _("signed, renewed or withdrawn")),
            field("note", _("note; the reason where it was withdrawn")),
            field("lapses_on", _("last day it counts; empty for no end")),
            AT,
            BY,
        ),
    ),
    Table(
        name="cuts",
        about=_("Settings of a step that were cut, or not after all."),
        rows=class_rows.of_builds(CutMark.objects),
        columns=(
            *BUILD,
            field("step", _("key of the step in the plan")),
            field("setting", _("key of the setting")),
            field("done", _("cut, or not")),
            AT,
            BY,
        ),
    ),
    Table(
        name="ways_out",
        about=_("Ways out of a miscut that students proposed."),
        rows=class_rows.of_builds(WayOut.objects),
        columns=(
            field("way_out", _("number of the proposal"), "pk"),
            *BUILD,
            field("reading", _("number of the reading it is about"), "reading_id"),
            field("kind", _("cut_again, let_give or use_as")),
            field("details", _("what it needs")),
            NOTE,
            AT,
            BY,
        ),
    ),
    Table(
        name="decisions",
        about=_("What instructors decided on those; the newest of each counts."),
        rows=class_rows.decisions,
        columns=(
            field("way_out", _("number of the proposal"), "way_out_id"),
            field("agreed", _("agreed, or not")),
            NOTE,
            AT,
            BY,
        ),
    ),
    Table(
        name="near_misses",
        about=_("Near misses, injuries and damage. Private."),
        rows=class_rows.near_misses,
        columns=(
            field("entry", _("number of the entry"), "pk"),
            field("adds_to", _("number of the entry it adds to"), "follows_id"),
            field("kind", _("near_miss, injury or damage")),
            field("happened_at", _("when it happened")),
            field("machine", _("name of the machine"), "machine.name"),
            field("what", _("what happened")),
            field("done", _("what was done")),
            AT,
            BY,
        ),
    ),
    Table(
        name="meetings",
        about=_("When the class meets."),
        rows=class_rows.meetings,
        columns=(
            field("meeting", _("number of the meeting"), "pk"),
            field("starts_at", _("when it begins")),
            field("minutes", _("how long it lasts, in minutes")),
            NOTE,
        ),
    ),
    Table(
        name="presences",
        about=_("Who was at a meeting; the newest of each counts."),
        rows=class_rows.presences,
        columns=(
            field("meeting", _("number of the meeting"), "meeting_id"),
            *BUILD,
            field("state", _("present, late or away")),
            AT,
            BY,
        ),
    ),
    Table(
        name="meeting_plans",
        about=_("Who was to do what next at a meeting; the newest of each counts."),
        rows=class_rows.meeting_plans,
        columns=(
            field("meeting", _("number of the meeting"), "meeting_id"),
            field("turns", _("builds, steps, machines, and minutes from then")),
            AT,
            BY,
        ),
    ),
    Table(
        name="run_sheets",
        about=_("Which builds were put into which setup of a machine."),
        rows=class_rows.run_sheets,
        columns=(
            field("machine", _("name of the machine"), "machine.name"),
            field("setups", _("settings and the builds in each, in mm")),
            AT,
            BY,
        ),
    ),
)
