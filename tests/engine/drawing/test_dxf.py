from fractions import Fraction
from io import StringIO

import pytest
from ezdxf.filemanagement import read as read_dxf
from hypothesis import given, settings

from projects.engine.drawing.dxf import dxf
from projects.engine.drawing.worked import PartSheet
from tests.engine.drawing.pieces import INCH
from tests.engine.drawing.worked_parts import (
    dado,
    face,
    pair,
    part,
    show,
    tenoned,
    worked_sheets,
)


def read(sheet, *, units="in"):
    """Write a part and read it back, checked by the reader."""
    document = read_dxf(StringIO(dxf(sheet, show=show, units=units)))
    audit = document.audit()

    assert audit.errors == []
    assert audit.fixes == []
    return document


def polygons(document, layer):
    """Return the closed polylines of a layer, each as its corners."""
    found = list(document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]'))

    assert all(polyline.closed for polyline in found)
    return [[tuple(p) for p in polyline.get_points("xy")] for polyline in found]


def spans(corners):
    us, vs = zip(*corners, strict=True)
    return (min(us), max(us)), (min(vs), max(vs))


def approx(low, high, *, per):
    return pytest.approx((float(low / per), float(high / per)), abs=1e-6)


class TestDxf:
    @pytest.mark.parametrize(("units", "code", "per"), [("in", 1, INCH), ("mm", 4, 1)])
    def test_a_pair_reads_back_in_real_units(self, units, code, per):
        sheet = pair()
        document = read(sheet, units=units)
        outlines = polygons(document, "OUTLINE")
        slots = polygons(document, "SLOT")

        assert document.header["$INSUNITS"] == code
        assert len(outlines) == len(slots) == 2
        for work, corners, slot in zip(sheet.parts, outlines, slots, strict=True):
            seen = work.faces[0]
            (left, right), (low, high) = spans(corners)
            assert (left, right) == approx(Fraction(0), seen.width_mm, per=per)
            assert high - low == pytest.approx(float(seen.height_mm / per))
            u, v = spans(slot)
            [mark] = seen.marks
            assert u == approx(*mark.u, per=per)
            if seen.v_reversed:
                ends = (high - v[1], high - v[0])
            else:
                ends = (v[0] - low, v[1] - low)
            assert ends == approx(*mark.v, per=per)

    @settings(deadline=None, max_examples=12)  # a busy machine is no failure
    @given(sheet=worked_sheets())
    def test_every_cut_has_its_true_size(self, sheet):
        document = read(sheet, units="mm")
        marks = sheet.parts[0].faces[0].marks
        for layer, kind in (("SLOT", "slot"), ("HIDDEN", "holes")):
            wanted = sorted(
                (round(float(m.u[1] - m.u[0]), 6), round(float(m.v[1] - m.v[0]), 6))
                for m in marks
                if m.kind == kind
            )
            found = sorted(
                (round(u[1] - u[0], 6), round(v[1] - v[0], 6))
                for u, v in map(spans, polygons(document, layer))
            )
            assert found == wanted

    def test_a_tenoned_outline_has_all_its_corners(self):
        [corners] = polygons(read(tenoned()), "OUTLINE")

        assert len(corners) == 12

    def test_dimensions_measure_the_drawing(self):
        document = read(PartSheet(parts=pair().parts[:1]))
        found = document.modelspace().query("DIMENSION")

        assert {d.dxf.layer for d in found} == {"DIMENSION"}
        assert sorted(round(d.get_measurement(), 6) for d in found) == [
            0.5,
            0.75,
            6,
            14,
            18,
        ]

    def test_the_layers_are_named_for_what_is_on_them(self):
        document = read(pair())
        used = {entity.dxf.layer for entity in document.modelspace()}

        assert used == {"OUTLINE", "SLOT", "HIDDEN", "DIMENSION", "TEXT"}
        assert used <= {layer.dxf.name for layer in document.layers}

    def test_the_same_part_makes_the_same_file(self):
        written = [dxf(pair(), show=show, units="in") for _ in range(2)]

        assert written[0] == written[1]
        assert "ezdxf @" not in written[0]

    def test_names_can_not_break_out_of_their_text(self):
        hostile = "Side\n0\nENDSEC\r\n  0\nEOF\x00 %%c ^J \ud800 {\\H9;big}"
        sheet = PartSheet(parts=(part([face([dado(other=hostile)])], name=hostile),))
        document = read(sheet)
        texts = [t.plain_text() for t in document.modelspace().query("TEXT")]

        assert "Side 0 ENDSEC 0 EOF %%c ^J {\\H9;big}" in texts
        assert all("\n" not in text for text in texts)
