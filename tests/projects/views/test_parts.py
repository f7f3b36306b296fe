"""Part drawings: on the page, on paper, as DXF and SVG."""

import io
import re

import pypdfium2
import pytest
from django.urls import reverse
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read

from projects import actions, adapters
from projects.engine.units import mm_per
from projects.printing import pdf as printing
from tests.factories import POPLAR, as_bytes, log, plan_data


@pytest.fixture
def as_instructor(client_of, instructor):
    return client_of(instructor)


def file_of(client, build, part, kind):
    return client.get(reverse("build-part-file", args=[build.pk, part, kind]))


class TestPage:
    def test_every_part_is_drawn_and_a_pair_together(self, as_student, build):
        answered = as_student.get(reverse("build-parts", args=[build.pk]))
        titles = [picture.title for picture in answered.context["pictures"]]

        assert len(titles) == 7
        assert any("Left side" in t and "Right side" in t for t in titles)
        assert answered.content.decode().count("<svg") == 7

    def test_it_follows_the_students_readings(self, as_student, build):
        url = reverse("build-parts", args=[build.pk])
        before = as_student.get(url).content
        log(build, POPLAR, "0.702", "0.702", "0.702")

        assert as_student.get(url).content != before

    def test_a_plan_has_them_at_its_own_sizes(self, as_instructor, shop_class):
        plan = shop_class.revision.plan_id
        answered = as_instructor.get(reverse("plan-parts", args=[plan]))

        assert answered.status_code == 200
        assert len(answered.context["pictures"]) == 7

    def test_hostile_names_are_escaped(self, as_instructor, instructor):
        data = plan_data()
        data["parts"][2]["name"] = "<script>alert(1)</script>"
        plan = actions.publish_plan(instructor, as_bytes(data)).plan
        page = as_instructor.get(reverse("plan-parts", args=[plan.pk])).content

        assert b"<script>alert" not in page


class TestFiles:
    def test_the_dxf_is_sound_and_true_to_size(self, as_student, build):
        log(build, POPLAR, "0.742", "0.742", "0.742")
        answered = file_of(as_student, build, "shelf", "dxf")
        document = read(io.StringIO(answered.content.decode()))

        assert not document.audit().errors
        assert document.header["$INSUNITS"] == 1  # inches
        solution = adapters.solve_build(build, build.readings.all())
        length = float(solution.sizes["shelf", "length"] / mm_per("in"))
        outlines = document.modelspace().query("LWPOLYLINE[layer=='OUTLINE']")
        widths = {
            round(max(x for x, *_ in line) - min(x for x, *_ in line), 6)
            for line in (
                list(outline.get_points())
                for outline in outlines
                if isinstance(outline, LWPolyline)
            )
        }
        assert round(length, 6) in widths

    def test_the_svg_stands_alone(self, as_student, build):
        answered = file_of(as_student, build, "left_side", "svg")
        text = answered.content.decode()

        assert answered["Content-Type"] == "image/svg+xml"
        assert "attachment" in answered["Content-Disposition"]
        assert text.startswith("<svg xmlns=")
        assert "<script" not in text
        assert "Left side" in text

    def test_either_of_a_pair_gives_the_pair(self, as_student, build):
        assert (
            file_of(as_student, build, "left_side", "dxf").content
            == file_of(as_student, build, "right_side", "dxf").content
        )

    @pytest.mark.parametrize("path", ["nothing.dxf", "shelf.exe", "shelf"])
    def test_what_is_not_there_is_not_there(self, as_student, build, path):
        url = f"/builds/{build.pk}/parts/{path}"

        assert as_student.get(url).status_code == 404


def pages(made):
    """Return the text of each page of a PDF."""
    document = pypdfium2.PdfDocument(made)
    found = [page.get_textpage().get_text_bounded() for page in document]
    document.close()
    return found


class TestPdf:
    @pytest.mark.parametrize(("paper", "width_pt"), [("letter", 612), ("a4", 595)])
    def test_it_is_on_the_paper_asked_for(self, as_student, build, paper, width_pt):
        url = reverse("build-parts-pdf", args=[build.pk])
        made = as_student.get(url, {"paper": paper}).content
        document = pypdfium2.PdfDocument(made)
        text = "".join(page.get_textpage().get_text_bounded() for page in document)

        assert round(document[0].get_width()) == width_pt
        assert build.student.name in text
        assert "Back rail" in text
        assert f"of {len(document)}" in text
        document.close()

    def test_the_piece_comes_first_with_what_is_drawn(self, as_student, build):
        made = as_student.get(reverse("build-parts-pdf", args=[build.pk])).content
        first, second, *_ = pages(made)

        assert "From the front" in first
        assert "Left side and Right side, a mirrored pair" in first
        assert "Dado for Lower shelf" in second

    @pytest.mark.parametrize("paper", ["letter", "a4"])
    def test_a_part_and_its_words_share_a_page(self, as_student, build, paper):
        url = reverse("build-parts-pdf", args=[build.pk])
        _, *drawn = pages(as_student.get(url, {"paper": paper}).content)

        assert len(drawn) == 6  # the rail and the toe board share one
        for text in drawn:
            assert re.search("Seen from|face", text)

    def test_a_plan_has_its_own(self, as_instructor, build):
        plan = build.revision.plan
        made = as_instructor.get(reverse("plan-parts-pdf", args=[plan.pk])).content
        text = "".join(pages(made))

        assert "at the plan's own sizes" in text
        assert plan.title in text
        assert build.student.name not in text

    def test_without_pango_the_page_prints(
        self, as_student, as_instructor, build, monkeypatch
    ):
        monkeypatch.setattr(printing, "can_print", lambda: False)
        plan = build.revision.plan_id
        answered = as_student.get(reverse("build-parts-pdf", args=[build.pk]))
        of_plan = as_instructor.get(reverse("plan-parts-pdf", args=[plan]))

        assert answered.url == reverse("build-parts", args=[build.pk])
        assert of_plan.url == reverse("plan-parts", args=[plan])
