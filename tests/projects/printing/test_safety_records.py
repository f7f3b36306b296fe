"""Sign-offs on paper: a class's sheet, and one student's record."""

import logging
from datetime import date

import pytest
from django.utils import timezone

from projects import signoffs
from projects.models import SignOff
from projects.present.machines import class_rows
from projects.present.safety_record import machine_blocks
from projects.printing.safety_record import safety_record_pdf
from projects.printing.sign_offs import sign_offs_pdf
from tests.factories import MachineFactory, enrol, sign_off
from tests.projects.printing.test_cut_sheet import PAPERS, Sheet
from tests.signing import Kind, ask, record

KINDS = ["jointer", "planer", "table_saw", "mitre_saw", "band_saw", "router",
         "router_table", "drill_press", "sander"]  # fmt: skip


@pytest.fixture
def machines(shop_class):
    return [MachineFactory.create(shop=shop_class.shop, kind=kind) for kind in KINDS]


def class_sheet(shop_class, machines, *, paper="letter"):
    builds = list(shop_class.builds.select_related("student"))
    records = signoffs.machine_records(
        [build.student_id for build in builds], machines, today=timezone.localdate()
    )
    rows = class_rows(builds, machines, records)
    return Sheet(
        sign_offs_pdf(shop_class, machines, rows, paper=paper, at=timezone.now())
    )


def record_sheet(build, machines, *, paper="letter"):
    records = signoffs.machine_records(
        [build.student_id], machines, today=timezone.localdate()
    )
    blocks = machine_blocks(list(records.values()), build.student.checks_taken.all())
    return Sheet(safety_record_pdf(build, blocks, paper=paper, at=timezone.now()))


@pytest.mark.parametrize("paper", PAPERS)
class TestTheClass:
    def test_it_lies_across(self, paper, build, shop_class, machines):
        across = PAPERS[paper][::-1]

        assert set(class_sheet(shop_class, machines, paper=paper).sizes_mm) == {across}

    def test_a_full_class_repeats_its_heads(
        self, paper, build, shop_class, machines, caplog
    ):
        for n in range(29):
            enrol(shop_class, name=f"Student Number{n:02}")
        sign_off(build.student, machines[0], lapses_on=date(2999, 3, 3))
        with caplog.at_level(logging.WARNING):
            sheet = class_sheet(shop_class, machines, paper=paper)
        count = len(sheet.pages)

        for number, text in enumerate(sheet.pages, start=1):
            assert f"Page {number} of {count}" in text
            assert "Thursday evenings" in text
            assert ("Jointer" in text) != ("Sander" in text)
        assert "signed off until 3 Mar 2999" in sheet.text
        assert sheet.text.count("Perpetua Lindqvale") == 2  # once for some machines
        assert "school policy" in sheet.pages[0]
        assert not caplog.records


class TestTheRecord:
    def test_state_requirements_and_history(self, build, machines, caplog):
        saw = machines[2]
        seen, cut = ask(saw, Kind.DEMONSTRATION, Kind.SUPERVISED_CUT)
        record(build.student, seen, note="on the blue saw")
        record(build.student, cut)
        sign_off(build.student, saw, lapses_on=date(2999, 3, 3))
        sign_off(build.student, saw, act=SignOff.Act.WITHDRAWN, note="guard off")
        saw.checks_taken.create(
            student=build.student,
            answers=[],
            right=6,
            asked=10,
            pass_mark_pct=80,
            passed=False,
            at=timezone.now(),
        )
        with caplog.at_level(logging.WARNING):
            text = record_sheet(build, machines).text

        assert "Table saw: withdrawn on " in text
        assert "Still asked: Watch a demonstration; Make a supervised cut." in text
        assert "“on the blue saw”" in text
        assert "Signed off until 3 Mar 2999" in text
        assert "Withdrawn: “guard off”" in text
        assert "Written check: 6 of 10, not passed (pass mark 80 %)" in text
        assert "Ottoline Varga" in text
        assert "This says what was recorded here, no more." in text
        assert not caplog.records

    def test_a_retired_machine_stays_with_its_record(self, build, machines):
        sign_off(build.student, machines[0])
        for machine in machines[:2]:
            machine.retired_at = timezone.now()
        text = record_sheet(build, machines).text

        assert "Jointer: signed off (no longer in use)" in text
        assert "Planer" not in text

    @pytest.mark.parametrize("paper", PAPERS)
    def test_every_page_says_whose_it_is(self, paper, build, machines):
        for machine in machines:
            for requirement in ask(machine, *Kind):
                record(build.student, requirement, note="a longer note " * 6)
        sheet = record_sheet(build, machines, paper=paper)
        count = len(sheet.pages)

        assert set(sheet.sizes_mm) == {PAPERS[paper]}
        assert count > 1
        for number, text in enumerate(sheet.pages, start=1):
            assert f"Page {number} of {count}" in text
            assert "Perpetua Lindqvale" in text
