"""Machine posters: one page each, whatever stands on them."""

import io
import logging

import pypdfium2
import pytest
from django.utils import timezone
from PIL import Image

from projects.actions.machines import KINDS
from projects.engine.shop.equipment import EQUIPMENT
from projects.models import MachinePhoto
from projects.printing.posters import posters_pdf
from tests.factories import MachineFactory, ShopFactory

POINT_MM = 25.4 / 72
PAPERS = {"letter": (215.9, 279.4), "a4": (210, 297)}


@pytest.fixture
def shop(db):
    return ShopFactory()


def pages(machines, *, paper="letter"):
    document = pypdfium2.PdfDocument(posters_pdf(machines, paper=paper))
    texts = [page.get_textpage().get_text_range() for page in document]
    sizes = {
        tuple(round(s * POINT_MM, 1) for s in page.get_size()) for page in document
    }
    document.close()
    return [" ".join(text.split()) for text in texts], sizes


def crowded(shop, kind):
    """A machine of which much is written down."""
    limits = {m.key: "1/8, 1/8, 1/16, 3/32" for m in EQUIPMENT[kind]}
    return MachineFactory.create(
        shop=shop,
        kind=kind,
        name="W" * 60,
        limits=limits,
        cautions="\n".join([f"{n} " + "mind it " * 37 for n in range(4)]),
    )


@pytest.mark.parametrize("paper", PAPERS)
class TestPaper:
    def test_each_machine_is_one_page(self, paper, shop, caplog):
        machines = [MachineFactory.create(shop=shop, kind=kind) for kind in KINDS]
        with caplog.at_level(logging.WARNING):
            texts, sizes = pages(machines, paper=paper)

        assert len(texts) == len(KINDS)
        assert sizes == {PAPERS[paper]}
        assert not caplog.records
        for machine, text in zip(machines, texts, strict=True):
            assert machine.name in text

    def test_a_crowded_one_still_is(self, paper, shop):
        machines = [crowded(shop, kind) for kind in KINDS]

        assert len(pages(machines, paper=paper)[0]) == len(KINDS)


class TestWhatItSays:
    def test_what_comes_first_and_what_to_wear(self, shop):
        saw = MachineFactory.create(
            shop=shop, limits={"kerf": "1/8"}, cautions="Switch is at the knee."
        )
        (text,), _sizes = pages([saw])

        assert "Use only after your sign-off" in text
        assert "The machine's manual, local codes, school policy" in text
        assert "Eye protection with side shields" in text
        assert "Wood dust harms the lungs" in text
        assert "Guard and riving knife" in text
        assert "Switch is at the knee." in text
        assert "Kerf 1/8 in" in text
        assert "kickback fingers" in text

    def test_names_are_printed_as_they_are(self, shop):
        saw = MachineFactory.create(shop=shop, name="<b>Saw</b>")

        assert "<b>Saw</b>" in pages([saw])[0][0]

    def test_the_photo_stands_on_it(self, shop):
        saw = MachineFactory.create(shop=shop)
        out = io.BytesIO()
        Image.new("RGB", (400, 300), "teal").save(out, "JPEG")
        MachinePhoto.objects.create(
            machine=saw, data=out.getvalue(), width=400, height=300, at=timezone.now()
        )
        document = pypdfium2.PdfDocument(posters_pdf([saw], paper="letter"))
        kinds = [found.type for found in document[0].get_objects()]
        document.close()

        assert pypdfium2.raw.FPDF_PAGEOBJ_IMAGE in kinds
