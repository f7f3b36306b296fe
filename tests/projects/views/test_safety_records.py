"""The record of sign-offs to print and to take away."""

import csv
import io
from datetime import date

import pytest
from django.urls import reverse
from odfdo import Document

from projects.models import SignOff
from projects.printing import pdf
from tests.factories import MachineFactory, enrol, sign_off
from tests.signing import Kind, ask, record

HEADER = ["Student", "Machine", "State", "Recorded on", "By", "Lapses on", "Note",
          "Met", "Asked", "Still asked"]  # fmt: skip


@pytest.fixture
def saw(shop_class):
    return MachineFactory.create(shop=shop_class.shop)


@pytest.fixture
def file_url(shop_class):
    def of(kind):
        return reverse("class-sign-offs-file", args=[shop_class.pk, kind])

    return of


class TestTheFile:
    def test_csv(self, file_url, as_instructor, build, saw):
        seen, _cut = ask(saw, Kind.DEMONSTRATION, Kind.SUPERVISED_CUT)
        record(build.student, seen)
        row = sign_off(build.student, saw, lapses_on=date(2999, 3, 3), note="=calm")
        answered = as_instructor.get(file_url("csv"))
        read = csv.reader(io.StringIO(answered.content.decode("utf-8-sig")))

        assert "attachment" in answered.headers["Content-Disposition"]
        assert list(read) == [
            HEADER,
            ["Perpetua Lindqvale", "Table saw", "signed off",
             row.at.date().isoformat(), "Ottoline Varga", "2999-03-03", "'=calm",
             "1", "2", "Make a supervised cut"],
        ]  # fmt: skip

    def test_ods(self, file_url, as_instructor, build, saw):
        sign_off(build.student, saw, lapses_on=date(2999, 3, 3), note="=calm")
        answered = as_instructor.get(file_url("ods"))
        sheet = Document(io.BytesIO(answered.content)).body.get_table(0)
        assert sheet is not None

        assert sheet.get_row_values(0) == HEADER
        assert sheet.get_cell((5, 1)).type == "date"
        assert sheet.get_cell((6, 1)).value == "=calm"
        assert sheet.get_cell((6, 1)).formula is None

    def test_no_other_kind(self, shop_class, as_instructor):
        url = f"/classes/{shop_class.pk}/sign-offs.xlsx"

        assert as_instructor.get(url).status_code == 404

    def test_as_many_queries_for_any_class(
        self, file_url, as_instructor, shop_class, saw, django_assert_num_queries
    ):
        for _ in range(4):
            sign_off(enrol(shop_class).student, saw)
        with django_assert_num_queries(8):
            as_instructor.get(file_url("csv"))


@pytest.mark.parametrize("name", ["class-sign-offs-pdf", "safety-record-pdf"])
class TestThePdfs:
    @pytest.fixture
    def url(self, name, build, shop_class):
        about = shop_class if name.startswith("class") else build
        return reverse(name, args=[about.pk])

    def test_they_come_as_files_to_look_at(self, url, name, as_instructor, saw):
        answered = as_instructor.get(url, {"paper": "a4"})

        assert answered.headers["Content-Type"] == "application/pdf"
        assert answered.headers["Content-Disposition"].startswith("inline; ")
        assert "-a4.pdf" in answered.headers["Content-Disposition"]

    def test_a_paper_nobody_has_is_the_plans_own(self, url, name, as_instructor):
        answered = as_instructor.get(url, {"paper": "../../etc"})

        assert "-letter.pdf" in answered.headers["Content-Disposition"]

    def test_without_pango_a_page_says_so(self, url, name, as_instructor, monkeypatch):
        monkeypatch.setattr(pdf, "can_print", lambda: False)
        answered = as_instructor.get(url, follow=True)

        assert "lacks pango" in answered.content.decode()

    def test_while_others_are_made_it_asks_to_wait(
        self, url, name, as_instructor, monkeypatch
    ):
        def busy(*_args, **_more):
            raise pdf.BusyError

        monkeypatch.setattr("projects.printing.sign_offs.pdf", busy)
        monkeypatch.setattr("projects.printing.safety_record.pdf", busy)

        assert as_instructor.get(url).status_code == 503

    def test_as_many_queries_for_any_record(
        self, url, name, as_instructor, build, saw, django_assert_max_num_queries
    ):
        for kind in ("planer", "jointer"):
            machine = MachineFactory.create(shop=saw.shop, kind=kind)
            sign_off(build.student, machine)
            sign_off(build.student, machine, act=SignOff.Act.WITHDRAWN, note="why")
        with django_assert_max_num_queries(9):
            as_instructor.get(url)
