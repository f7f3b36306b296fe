"""Join cards on paper: they line up, hold what a student needs, and can be scanned."""

import logging

import pypdfium2
import pytest
import segno

from projects.members import members_of, with_cards
from projects.models import ShopClass
from projects.present.join_cards import join_cards
from projects.printing.join_cards import join_cards_pdf
from tests.factories import enrol

POINT_MM = 25.4 / 72
PAPERS = {"letter": (215.9, 279.4), "a4": (210, 297)}
SITE = "http://192.168.1.7:8000"
LETTERS = "abcdefghjk"


@pytest.fixture
def cards(shop_class, instructor):
    """Ten cards: a page, and two more."""
    for n, letter in enumerate(LETTERS):
        enrol(shop_class, name=f"Student {n}", username=f"km7px3q{letter}")
    return made(shop_class, instructor)


def made(shop_class, instructor, site=SITE):
    seen = ShopClass.objects.with_rights_of(instructor).get(pk=shop_class.pk)
    return join_cards(with_cards(members_of(seen, instructor)), seen, site)


def opened(shop_class, cards, paper="letter"):
    return pypdfium2.PdfDocument(join_cards_pdf(shop_class, cards, paper=paper))


def texts(document):
    return [" ".join(page.get_textpage().get_text_range().split()) for page in document]


def card_box(page, n):
    """Return left, bottom, right and top of a card inside its padding, in points."""
    width, height = (side * POINT_MM for side in page.get_size())
    left = (width - 180) / 2 + 90 * (n % 2) + 2
    top = height - 15 - 62 * (n // 2) - 2
    return [at / POINT_MM for at in (left, top - 58, left + 86, top)]


def squares(page, modules):
    """Return the QR code of a page's first card, module by module, as it is printed."""
    scale = 600 / 72
    image = page.render(scale=scale).to_pil().convert("L")
    mm = scale / POINT_MM
    width = page.get_size()[0] * POINT_MM
    # the first card: 4 mm inside its corner, pulled 1 mm up and 2 mm left
    left, top = (width - 180) / 2 + 2, 15 + 3
    dark = [
        (x, y)
        for y in range(int(top * mm), int((top + 35) * mm), 2)
        for x in range(int(left * mm), int((left + 35) * mm), 2)
        if image.getpixel((x, y)) < 128
    ]
    x0, x1 = min(x for x, _ in dark), max(x for x, _ in dark)
    y0, y1 = min(y for _, y in dark), max(y for _, y in dark)
    step_x, step_y = (x1 - x0 + 1) / modules, (y1 - y0 + 1) / modules
    return [
        [
            int(
                image.getpixel((x0 + step_x * (c + 0.5), y0 + step_y * (r + 0.5))) < 128
            )
            for c in range(modules)
        ]
        for r in range(modules)
    ]


@pytest.mark.parametrize("paper", PAPERS)
class TestPaper:
    def test_eight_a_page_on_its_size(self, paper, shop_class, cards, caplog):
        with caplog.at_level(logging.WARNING):
            document = opened(shop_class, cards, paper)
        sizes = {
            tuple(round(side * POINT_MM, 1) for side in page.get_size())
            for page in document
        }
        pages = texts(document)

        assert sizes == {PAPERS[paper]}
        assert [page.count("Scan the square") for page in pages] == [8, 2]
        assert "Join cards: Thursday evenings · Page 2 of 2" in pages[1]
        assert not caplog.records

    def test_a_name_stays_on_one_card(self, paper, shop_class, cards):
        pages = texts(opened(shop_class, cards, paper))

        for n, letter in enumerate(LETTERS):
            found = [page for page in pages if f"Student {n}" in page]
            assert len(found) == 1
            assert f"km7p-x3q{letter}" in found[0]

    def test_the_squares_lead_to_the_card(self, paper, shop_class, cards):
        document = opened(shop_class, cards, paper)
        wanted = segno.make(cards[0].url, error="m", micro=False)
        matrix = [list(map(int, row)) for row in wanted.matrix]

        assert squares(document[0], len(matrix)) == matrix


class TestWhatItSays:
    def test_what_a_student_needs(self, shop_class, cards):
        card = cards[0]

        assert card.url == "http://192.168.1.7:8000/join/km7px3qa/"
        assert card.typed == "192.168.1.7:8000/join"
        page = texts(opened(shop_class, cards))[0]
        for words in ("Student 0", "Thursday evenings", "km7p-x3qa", card.typed):
            assert words in page

    def test_https_is_typed_with_it(self, shop_class, instructor):
        enrol(shop_class, username="km7px3qe")
        (card,) = made(shop_class, instructor, "https://shop.example")

        assert card.typed == "https://shop.example/join"

    def test_the_longest_name_title_and_address_leave_room_for_the_code(
        self, shop_class, instructor
    ):
        shop_class.title = "W" * 80
        shop_class.save()
        for n, letter in enumerate(LETTERS[:8]):
            enrol(shop_class, name=f"{n}{'W' * 79}", username=f"km7px3q{letter}")
        cards = made(shop_class, instructor, f"http://{'a' * 20}.{'b' * 19}:65535")
        (page,) = opened(shop_class, cards)
        # what is clipped is not in the region of its card
        for n in range(8):
            text = page.get_textpage().get_text_bounded(*card_box(page, n))

            assert f"km7p-x3q{LETTERS[n]}" in text
            assert "only you know" in " ".join(text.split())

    def test_names_are_never_markup(self, shop_class, instructor):
        enrol(shop_class, name="<b>Ann</b>", username="km7px3qe")
        cards = made(shop_class, instructor)

        assert "<b>Ann</b>" in texts(opened(shop_class, cards))[0]
