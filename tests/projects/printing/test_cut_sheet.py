"""The cut sheet on paper: pages, paper size, what stands on them."""

import logging
from datetime import date

import pypdfium2
import pytest

from projects import actions, adapters
from projects.printing.cut_sheet import cut_sheet_pdf, sheet_context
from projects.sheet_machines import machines_of_build
from projects.showing import showing_named
from tests.factories import (
    OPENING,
    PLYWOOD,
    POPLAR,
    SHELF_CUT,
    MachineFactory,
    as_bytes,
    log,
    log_stock,
    plan_bytes,
    plan_data,
    sign_off,
)

POINT_MM = 25.4 / 72
TODAY = date(2026, 3, 2)
PAPERS = {"letter": (215.9, 279.4), "a4": (210, 297)}
NAMES = ["Left side", "Right side", "Seat", "Lower shelf", "Centre divider",
         "Back rail", "Toe board", "Plywood back"]  # fmt: skip


class Sheet:
    """A PDF, as its pages' texts and sizes."""

    def __init__(self, data):
        document = pypdfium2.PdfDocument(data)
        self.sizes_mm = [
            tuple(round(side * POINT_MM, 1) for side in page.get_size())
            for page in document
        ]
        texts = [page.get_textpage().get_text_range() for page in document]
        # a hyphen that PDFium makes of a soft break
        self.pages = [" ".join(text.split()) for text in texts]
        self.text = " ".join(self.pages)
        document.close()

    def page_with(self, words):
        return [n for n, text in enumerate(self.pages) if words in text]


def printed(build, rows=None, *, paper="letter", showing=""):
    rows = list(build.readings.select_related("by")) if rows is None else rows
    solution = adapters.solve_build(build, rows)
    chosen = showing_named(showing, solution.plan)
    machines = machines_of_build(build, solution, today=TODAY)
    return Sheet(
        cut_sheet_pdf(build, rows, solution, chosen, paper=paper, machines=machines)
    )


@pytest.fixture
def measured(build):
    """A build with all stock measured."""
    log_stock(build)
    return build


@pytest.mark.parametrize("paper", PAPERS)
class TestPaper:
    def test_its_size(self, paper, measured):
        sheet = printed(measured, paper=paper)

        assert set(sheet.sizes_mm) == {PAPERS[paper]}

    def test_every_page_says_which_it_is_and_whose(self, paper, measured):
        sheet = printed(measured, paper=paper)
        count = len(sheet.pages)

        assert 2 <= count <= 5
        for number, text in enumerate(sheet.pages, start=1):
            assert f"Page {number} of {count}" in text
            assert "Perpetua Lindqvale" in text
            assert "Hall boot bench, revision 1" in text

    def test_nothing_is_warned_of(self, paper, measured, caplog):
        with caplog.at_level(logging.WARNING):
            printed(measured, paper=paper)

        assert not caplog.records

    def test_no_part_is_split(self, paper, measured):
        sheet = printed(measured, paper=paper)

        for name in NAMES:
            (start,) = sheet.page_with(f"{name} 1 piece")
            rest = sheet.pages[start].partition(f"{name} 1 piece")[2]
            # its block runs on to the next part's or to the readings below them all
            ends = [at for other in NAMES if (at := rest.find(f"{other} 1 piece")) >= 0]
            block = rest[: min(ends, default=len(rest))]
            for label in ("Length", "Width", "Thickness"):
                assert label in block


class TestWhatItSays:
    def test_a_whole_parts_block_is_on_one_page(self, measured):
        rows = list(measured.readings.all())
        solution = adapters.solve_build(measured, rows)
        context = sheet_context(
            measured, rows, solution, showing_named("", solution.plan)
        )
        sheet = printed(measured)

        for part in context["sheet"].parts:
            (page,) = sheet.page_with(f"{part.part.name} 1 piece")
            block = sheet.pages[page].partition(f"{part.part.name} 1 piece")[2]
            last = [cut.title for cut in part.cuts][-1:]
            sums = [size.dimension.capitalize() for size in part.sizes if size.terms][
                -1:
            ]
            for words in (*last, *(f"{one} = " for one in sums)):
                assert words in block

    def test_each_part_stands_once_with_its_pair(self, measured):
        sheet = printed(measured)

        for name in NAMES:
            assert len(sheet.page_with(f"{name} 1 piece")) == 1
        assert "Left side 1 piece, mirror of Right side" in sheet.text
        assert "Right side 1 piece, mirror of Left side" in sheet.text

    def test_sizes_on_the_tape_and_exact(self, measured):
        sheet = printed(measured)

        # the seat: 36 - 2 T + 2 x 3/8, T = 2.227 / 3
        assert "35.265 in, 895.74 mm" in sheet.text
        assert "full" in sheet.text

    def test_slots_with_width_and_depth(self, measured):
        sheet = printed(measured)

        # the thickest point and the clearance: 0.744 + 0.005
        assert "0.749 in, 19.02 mm wide" in sheet.text
        for word in ("Dado", "Rabbet", "Groove", "Tenon", "Mortise"):
            assert word in sheet.text

    def test_sums_in_words(self, measured):
        assert "Overall width − " in printed(measured).text

    def test_what_waits_has_a_blank_to_write_on(self, measured):
        sheet = printed(measured)

        assert sheet.text.count("Not before the dry fit") == 2
        assert sheet.text.count("do not cut to this") == 2
        assert (
            "Not cut before it is measured at both ends: Back rail, Toe board."
            in sheet.text
        )
        assert "Measured at both ends, and logged:" in sheet.text

    def test_one_end_frees_nothing(self, measured):
        log(measured, OPENING, "34 17/32", instrument="tape")

        assert printed(measured).text.count("do not cut to this") == 2

    def test_once_measured_it_says_what_was_read(self, measured):
        log(measured, OPENING, "34 17/32", "34 17/32", instrument="tape")
        sheet = printed(measured)

        assert "Not before the dry fit" not in sheet.text
        assert "Cut to it: Back rail, Toe board" in sheet.text
        assert "Measured at both ends" not in sheet.text

    def test_the_readings_it_was_made_from(self, measured, student):
        log(measured, POPLAR, "0.740")  # follows 0.742
        actions.set_aside(
            measured, list(measured.readings.all()), by=student, target=PLYWOOD, point=3
        )
        used = printed(measured).text.partition("Made from these readings:")[2]

        for read in ("0.740 in", "0.744 in", "0.741 in", "0.240 in", "0.238 in"):
            assert read in used
        assert "0.742 in" not in used
        assert "0.239 in" not in used

    def test_a_size_that_hangs_on_stock_nobody_measured_says_so(self, build):
        log(build, POPLAR, "0.742", "0.742", "0.742")

        # the widths of the shelf and the divider, and how thick the back is
        said = "not before 1/4 in plywood is measured"
        assert printed(build).text.count(said) == 3

    def test_without_readings_it_says_that(self, build):
        assert "none; all thicknesses are the plan's." in printed(build).text

    def test_cautions_come_first(self, measured):
        text = printed(measured).text

        assert "The machine's manual, local codes, school policy" in text
        assert text.index("Caution.") < text.index("Left side 1 piece")

    def test_where_the_student_stands_with_the_machines(self, measured, student):
        shop = measured.shop_class.shop
        saw = MachineFactory.create(shop=shop)
        sign_off(student, saw, lapses_on=TODAY)
        planer = MachineFactory.create(shop=shop, kind="planer")
        sign_off(student, planer, lapses_on=date(2026, 3, 1))
        text = printed(measured).text

        assert "Table saw: signed off until 2 Mar 2026." in text
        assert "Planer: lapsed on 1 Mar 2026. Its steps only another way" in text
        assert (
            "Jointer"
            not in text.partition("Left side 1 piece")[0].partition(
                "Sign-offs on record."
            )[2]
        )
        assert text.index("Sign-offs on record.") < text.index("Left side 1 piece")

    def test_a_doubtful_reading_is_told(self, measured):
        log(measured, SHELF_CUT, "34", instrument="tape")
        log(measured, OPENING, "34 1/2", "34 1/2", instrument="tape")
        sheet = printed(measured)

        assert "In doubt: Lower shelf" in sheet.text
        assert "as cut" in sheet.text

    def test_in_millimetres(self, measured):
        sheet = printed(measured, showing="mm")

        assert "895.7 mm" in sheet.text
        assert "Millimetres" in sheet.text

    def test_the_drawing_has_the_overall_sizes(self, measured):
        first = printed(measured).pages[0]

        assert "From the front" in first
        assert "36" in first


class TestOtherPlans:
    @pytest.mark.parametrize("name", ["step_stool", "tool_tray"])
    def test_they_print_too(self, name, instructor, student, caplog):
        revision = actions.publish_plan(instructor, plan_bytes(name))
        made = actions.open_class(
            instructor, title="Mondays", revision=revision, students=[student]
        )
        with caplog.at_level(logging.WARNING):
            sheet = printed(made.builds.get())

        assert len(sheet.pages) >= 2
        assert not caplog.records

    def test_hostile_names_are_printed_as_they_are(self, instructor, student, caplog):
        hostile = "<script>alert(1)</script>"
        data = plan_data() | {"title": f"{hostile} ½″"}
        data["parts"][0]["name"] = hostile
        data["parts"][1]["name"] = "W" * 80
        data["parts"][2]["name"] = "</p><img src=http://elsewhere.invalid/x>"
        data["stock"][0]["name"] = "url(http://elsewhere.invalid/y)"
        revision = actions.publish_plan(instructor, as_bytes(data))
        made = actions.open_class(
            instructor, title="Mondays", revision=revision, students=[student]
        )
        with caplog.at_level(logging.WARNING):
            sheet = printed(made.builds.get())
        text = sheet.text.replace(" ", "")

        assert hostile in text
        assert "<imgsrc=http://elsewhere.invalid/x>" in text
        assert text.count("W" * 20) >= 1
        assert not caplog.records
