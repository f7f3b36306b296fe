"""A draft's page: forms, pictures, undo, two at once, publishing."""

import json
import re

import pytest
from django.urls import reverse

from projects.engine import draft as engine
from tests.drafts import document, now, text, words

HTMX = {"HX-Request": "true"}


@pytest.fixture
def see(as_instructor):
    """Fetch a draft's page: see(draft, "open=parts:shelf")."""

    def fetch(draft, query="", **options):
        url = reverse("draft", args=[draft.plan_id])
        return as_instructor.get(f"{url}?{query}", **options)

    return fetch


@pytest.fixture
def send(as_instructor):
    """Send a form of a draft's page, as htmx does unless told otherwise."""

    def post(draft, client=as_instructor, *, htmx=True, **fields):
        fields = {"op": "save", "based_on": now(draft), **fields}
        url = reverse("draft", args=[draft.plan_id])
        return client.post(url, fields, headers=HTMX if htmx else {})

    return post


def entry(draft, list_name, key):
    return next(e for e in document(draft)[list_name] if e["key"] == key)


def found(pattern, page):
    match = re.search(pattern, page)
    assert match is not None
    return match[1]


PART = {"entry": "parts:new", "name": "Hook rail", "stock": "poplar34", "lies": "xzy"}
JOINT = {
    "entry": "joints:shelf_left",
    "kind": "dado",
    "guest_part": "shelf",
    "guest_face": "left",
    "host_part": "left_side",
    "depth": "1/2",
    "depth_as": "share",
    "clearance": "0.005",
    "stop_at_1": "front",
    "stop_by_1": "1/2",
    "name": "Lower shelf in left side",
}
WIDTH = {
    "entry": "distances:overall_width",
    "name": "Overall width",
    "from_part": "left_side",
    "from_face": "left",
    "to_part": "right_side",
    "to_face": "right",
    "value": "36",
    "held": "1",
}


class TestThePage:
    def test_it_says_every_entry_in_words(self, see, draft):
        page = words(see(draft))

        assert "Left side 3/4 in yellow-poplar; length up, width front to back" in page
        assert "Dado, 1/2 of the thickness deep, stops 1/2 short of the front" in page
        assert "Opening between the sides Left side right to Right side left" in page
        assert "cut to it: Back rail, Toe board" in page
        assert "Left side to Centre divider = Centre divider to Right side" in page
        assert "Every size is fixed and nothing contradicts." in page

    def test_it_draws_the_piece(self, see, draft):
        page = text(see(draft))

        assert 'data-view="front"' in page
        assert page.count('class="drawing-part"') == 8

    def test_the_view_chosen_stays(self, see, send, draft):
        send(draft, op="view", view="top")

        assert 'data-view="top"' in text(see(draft))

        send(draft, op="view", view="below")

        assert 'data-view="top"' in text(see(draft))

    def test_an_empty_one_says_where_to_begin(self, see, empty):
        page = words(see(empty))

        assert "Start with the stock, then the parts." in page
        assert "the piece draws itself here" in page

    @pytest.mark.parametrize(
        "open_",
        ["head:", "stock:ply14", "parts:shelf", "joints:rail_left",
         "distances:opening", "flush:0", "even:0", "stock:new", "parts:new",
         "joints:new", "distances:new", "flush:new", "even:new"],
    )  # fmt: skip
    def test_every_entry_opens(self, open_, see, draft):
        answered = see(draft, f"open={open_}")

        assert answered.status_code == 200
        assert f'name="entry" value="{open_}"' in text(answered)

    @pytest.mark.parametrize(
        "query",
        ["open=parts:bookcase", "open=flush:99", "open=flush:x", "aside=99",
         "aside=1", "since=99", "open=even:99999999999999999999"],
    )  # fmt: skip
    def test_what_is_not_there_is_not_found(self, query, see, draft):
        assert see(draft, query).status_code == 404

    def test_what_it_does_not_know_it_passes_over(self, see, draft):
        assert see(draft, "open=walls:1&pick=nothing&aside=x").status_code == 200

    def test_htmx_gets_the_live_part(self, see, draft):
        page = text(see(draft, "open=parts:shelf", headers=HTMX))

        assert page.lstrip().startswith('<div class="draft" id="draft"')

    @pytest.mark.parametrize("target", ["draft-form", "draft-picked", "drawing"])
    def test_htmx_gets_the_piece_it_asks_for(self, target, see, draft):
        headers = {**HTMX, "HX-Target": target}
        page = text(see(draft, "open=parts:shelf", headers=headers))

        assert page.count(f'id="{target}"') == 1
        assert 'id="draft"' not in page

    def test_pointing_at_two_parts_offers_the_faces_that_meet(self, see, draft):
        page = text(see(draft, "pick=shelf&pick=left_side"))

        assert "Join Lower shelf, left face to Left side, right face" in page
        assert (
            "open=joints%3Anew&guest_part=shelf&guest_face=left&host_part=left_side"
            in page
        )

    def test_pointing_at_one_offers_to_open_it(self, see, draft):
        assert "Open Lower shelf" in text(see(draft, "pick=shelf"))


class TestSaving:
    def test_a_new_entry_is_added(self, send, empty):
        send(empty, entry="stock:new", name="3/4 in oak", kind="solid", thickness="3/4")
        answered = send(empty, **{**PART, "stock": "stock_3_4_in_oak"})

        assert answered.status_code == 200
        assert document(empty)["parts"] == [
            {"key": "hook_rail", "name": "Hook rail", "stock": "stock_3_4_in_oak",
             "length": "x", "width": "z", "thickness": "y"}
        ]  # fmt: skip
        assert 'id="draft-form"' not in text(answered)
        assert "Undo: Hook rail added" in text(answered)

    def test_another_can_be_added_right_away(self, send, draft):
        page = text(send(draft, op="save:more", **PART))

        assert 'name="entry" value="parts:new"' in page

    @pytest.mark.parametrize("htmx", [True, False])
    def test_another_joint_starts_like_the_one_before(
        self, htmx, send, draft, as_instructor
    ):
        tenon = {**JOINT, "entry": "joints:new", "kind": "tenon", "name": "",
                 "tenon_thickness": "1/4", "edge_shoulder": "3/8"}  # fmt: skip
        answered = send(draft, op="save:more", htmx=htmx, **tenon)
        if not htmx:
            answered = as_instructor.get(answered.headers["Location"])
        page = text(answered)

        assert '<option value="tenon" selected>' in page
        for name, value in (("depth", "1/2"), ("tenon_thickness", "1/4"),
                            ("edge_shoulder", "3/8"), ("name", "")):  # fmt: skip
            assert f'name="{name}" value="{value}"' in page
        assert '<option value="share" selected>' in page
        assert '<option value="shelf" selected>' not in page

    def test_a_joint_is_duplicated_for_another_part(self, see, send, draft):
        page = text(see(draft, "open=joints:shelf_left"))
        form = text(see(draft, found(r'data-opens="(open=joints:new&[^"]*|open=joints'
                                     r'%3Anew&[^"]*)"', page)))  # fmt: skip

        assert 'name="entry" value="joints:new"' in form
        assert 'name="stop_by_1" value="1/2"' in form
        assert '<option value="left_side" selected>' in form
        assert now(draft) == 1

    def test_what_was_asked_for_next_opens(self, send, draft):
        page = text(send(draft, then="open=joints:rail_left", **PART))

        assert 'name="entry" value="joints:rail_left"' in page

    def test_without_a_script_it_sends_on(self, send, draft, as_instructor):
        answered = send(draft, htmx=False, **PART)

        assert answered.status_code == 302
        assert as_instructor.get(answered.headers["Location"]).status_code == 200

    def test_a_form_sent_unchanged_changes_nothing(self, send, draft):
        for fields in (JOINT, WIDTH):
            send(draft, **fields)

        assert now(draft) == 1

    def test_it_says_what_undo_would_undo(self, send, draft):
        page = text(send(draft, **{**JOINT, "depth": "1/3"}))

        assert "Undo: depth of Lower shelf in left side" in page

    def test_a_share_becomes_a_length(self, send, draft):
        send(draft, **{**JOINT, "depth": "1/4", "depth_as": "length"})

        assert entry(draft, "joints", "shelf_left")["depth"] == "1/4"

    def test_the_host_face_follows_from_the_guests(self, send, draft):
        send(draft, **{**JOINT, "guest_face": "right", "host_part": "right_side"})

        assert entry(draft, "joints", "shelf_left")["host"] == "right_side.left"

    def test_a_kind_takes_its_own_fields_along(self, send, draft):
        send(draft, **{**JOINT, "kind": "dowel", "dowel_count": "3",
                       "dowel_diameter": "3/8", "dowel_length": "2"})  # fmt: skip
        made = entry(draft, "joints", "shelf_left")

        assert made["dowels"] == {"diameter": "3/8", "length": "2", "count": 3}
        assert not {"depth", "stops"} & set(made)

    def test_a_distance_without_a_name_gets_one(self, send, draft):
        send(draft, **{**WIDTH, "entry": "distances:new", "name": "", "held": ""})

        assert document(draft)["distances"][-1]["name"] == (
            "Left side left to Right side right"
        )

    def test_one_without_a_name_says_its_ends_once(self, send, draft):
        ends = {"from_part": "shelf", "from_face": "front", "to_part": "shelf",
                "to_face": "back"}  # fmt: skip
        fields = {**WIDTH, "entry": "distances:new", "name": "", **ends}
        page = words(send(draft, **{**fields, "held": "", "value": ""}))

        assert page.count("Lower shelf, front to back") == 2  # and in what undo says

    def test_the_line_of_a_tenon_says_its_sizes(self, send, draft):
        tenon = {**JOINT, "kind": "tenon", "tenon_thickness": "1/4",
                 "edge_shoulder": "3/8"}  # fmt: skip

        assert "tenon 1/4 thick, 3/8 shoulder on each edge" in words(
            send(draft, **tenon)
        )

    def test_the_parts_cut_to_a_dry_fit_are_kept(self, send, draft):
        opening = {
            "entry": "distances:opening",
            "name": "Opening",
            "from_part": "left_side",
            "from_face": "right",
            "to_part": "right_side",
            "to_face": "left",
            "dry_fit": "1",
            "fits": ["back_rail"],
        }
        send(draft, **opening)

        assert entry(draft, "distances", "opening")["fits"] == ["back_rail"]

    def test_units_change_and_lengths_stay(self, send, draft):
        send(draft, entry="head:", title="Hall boot bench", units="mm", tape="16")

        assert entry(draft, "stock", "poplar34")["thickness"] == "3/4 in"

    def test_faces_become_flush_and_leave(self, send, draft):
        send(draft, entry="flush:new", from_part="toe_board", from_face="back",
             to_part="back_rail", to_face="front")  # fmt: skip
        flush = document(draft)["flush"]

        assert ["back.back", "back_rail.front", "toe_board.back"] in flush

        n = flush.index(["back.back", "back_rail.front", "toe_board.back"])
        page = text(send(draft, op="drop:toe_board.back", entry=f"flush:{n}"))

        assert ["back.back", "back_rail.front"] in document(draft)["flush"]
        assert f'name="entry" value="flush:{n}"' in page

    def test_a_face_is_added_to_a_list(self, send, draft):
        send(draft, entry="flush:5", to_part="divider", to_face="bottom")

        assert "divider.bottom" in document(draft)["flush"][5]

    def test_spaces_become_even(self, send, draft):
        space = {"from1_part": "shelf", "from1_face": "top", "to1_part": "seat",
                 "to1_face": "bottom"}  # fmt: skip
        send(draft, entry="even:new", from2_part="toe_board", from2_face="bottom",
             to2_part="shelf", to2_face="bottom", **space)  # fmt: skip
        send(draft, entry="even:0", **space)
        even = document(draft)["even"]

        assert even[1] == [
            ["shelf.top", "seat.bottom"], ["toe_board.bottom", "shelf.bottom"]
        ]  # fmt: skip
        assert even[0][-1] == ["shelf.top", "seat.bottom"]

        send(draft, entry="even:0", op="drop:2")

        assert len(document(draft)["even"][0]) == 2


class TestWhatIsTypedWrong:
    def test_a_length_is_kept_as_typed_and_told_at_its_field(self, send, draft):
        page = text(send(draft, **{**JOINT, "depth": "3/x", "depth_as": "length"}))

        assert entry(draft, "joints", "shelf_left")["depth"] == "3/x"
        assert 'id="f-depth-error"' in page
        assert 'value="3/x"' in page
        assert "Still open" in page

    def test_a_name_is_asked_for(self, send, draft):
        answered = send(draft, **{**PART, "name": " ", "count": "4"})
        page = text(answered)

        assert answered.status_code == 422
        assert "Give the part a name, such as Left side." in page
        assert 'name="count" value="4"' in page
        assert now(draft) == 1

    def test_what_is_impossible_is_told_in_the_engines_words(self, send, draft):
        answered = send(draft, **{**JOINT, "host_part": "shelf"})

        assert answered.status_code == 422
        assert "a joint needs two parts" in text(answered)
        assert 'name="depth" value="1/2"' in text(answered)
        assert now(draft) == 1

    @pytest.mark.parametrize(
        "fields",
        [
            {"op": "paint"},
            {"op": ""},
            {"entry": ""},
            {"entry": "walls:1"},
            {"based_on": ""},
            {"based_on": "x"},
            {"based_on": "99"},
            {"based_on": "9" * 40},
            {"entry": "parts:bookcase"},
            {"entry": "flush:99", "op": "remove"},
            {"entry": "head:", "op": "remove"},
            {"entry": "even:0", "op": "drop:9"},
            {"op": "mine", "aside": "x", "place": ""},
            {"op": "mine", "aside": "1", "place": "parts:shelf:"},
            {"op": "theirs", "aside": ""},
            {"op": "undo"},
            {"op": "redo"},
            {"entry": "parts:new", "op": "up"},
            {"entry": "parts:shelf", "op": "pair_with", "partner": "bookcase"},
            {"entry": "flush:new", "op": "down"},
            {"entry": "head:", "op": "up"},
        ],
    )
    @pytest.mark.parametrize("htmx", [True, False])
    def test_what_the_page_never_sends_is_refused(self, fields, htmx, send, draft):
        answered = send(draft, htmx=htmx, **{**PART, **fields})

        assert answered.status_code == 422
        assert now(draft) == 1


class TestWithAnEntry:
    def test_a_part_is_moved_copied_and_mirrored(self, send, draft):
        send(draft, op="up", entry="parts:shelf")
        send(draft, op="duplicate", entry="parts:shelf", copy_name="Upper shelf")
        send(draft, op="pair", entry="parts:divider")
        keys = [part["key"] for part in document(draft)["parts"]]

        assert keys[2:5] == ["shelf", "upper_shelf", "seat"]
        assert entry(draft, "parts", "divider")["pair"] == "centre_divider_mirrored"

        send(draft, op="unpair", entry="parts:divider")

        assert "pair" not in entry(draft, "parts", "divider")

    def test_a_flush_list_is_moved_and_stays_open(self, send, draft):
        first = document(draft)["flush"][0]
        page = text(send(draft, op="down", entry="flush:0"))

        assert document(draft)["flush"][1] == first
        assert 'name="entry" value="flush:1"' in page
        assert re.search(r'value="down" autofocus', page)

        page = text(send(draft, op="up", entry="flush:1"))

        assert re.search(r'value="down" autofocus', page)
        assert 'value="up"' not in page

    def test_what_goes_with_a_part_is_said_first(self, see, send, draft):
        page = text(see(draft, "open=parts:toe_board&sure=1"))

        assert "The joint Toe board under lower shelf goes." in page

        answered = send(draft, op="remove", entry="parts:toe_board")

        assert answered.status_code == 200
        assert "toe_board" not in json.dumps(document(draft))
        assert "Undo: Toe board removed" in text(answered)

    @pytest.mark.parametrize(
        "named", ["joints:toe_left", "distances:toe_space", "flush:0", "even:0"]
    )
    def test_others_go_at_once(self, named, send, draft):
        list_name = named.partition(":")[0]
        before = len(document(draft)[list_name])
        send(draft, op="remove", entry=named)

        assert len(document(draft)[list_name]) == before - 1

    def test_stock_that_is_used_stays(self, send, draft):
        answered = send(draft, op="remove", entry="stock:ply14")

        assert answered.status_code == 422
        assert "is still used by: Plywood back" in text(answered)


class TestStillOpen:
    def test_a_question_opens_the_form_that_answers_it(self, see, send, draft):
        page = text(send(draft, op="remove", entry="distances:rail_width"))

        assert "Back rail: nothing says where its bottom is." in page
        way = found(r'\?(open=distances%3Anew&[^"]*)"', page)
        form = text(see(draft, way))

        assert '<option value="back_rail" selected>' in form
        assert '<option value="bottom" selected>' in form

    def test_a_contradiction_shows_its_loop_and_by_how_much(self, send, draft):
        fields = {**JOINT, "entry": "joints:new", "kind": "butt", "name": "Clash",
                  "guest_part": "seat"}  # fmt: skip
        page = words(send(draft, **fields))

        assert "These can't all hold" in page
        assert "They are off by 3/8 in" in page

    def test_what_gives_is_said_and_is_in_nobodys_way(self, send, draft):
        fields = {**WIDTH, "entry": "distances:new", "value": "40", "held": ""}
        page = words(send(draft, **fields))

        assert "is wanted to be 40 in, but comes out at 36 in" in page
        assert "Every size is fixed" in page


class TestUndo:
    def test_back_and_forth(self, send, draft):
        send(draft, **{**WIDTH, "value": "40"})
        page = text(send(draft, op="undo"))

        assert entry(draft, "distances", "overall_width")["value"] == "36"
        assert "Redo: wanted size of Overall width" in page

        send(draft, op="redo")

        assert entry(draft, "distances", "overall_width")["value"] == "40"


def in_conflict(send, draft, client):
    """Let the owner save a width and somebody else another: their page and client."""
    seen = now(draft)
    send(draft, **{**WIDTH, "value": "40"})
    return text(
        send(draft, client, **{**WIDTH, "value": "32", "based_on": seen})
    ), client


def put_mine(send, draft, page, client, **options):
    """Press the first button that puts one's own in, as it stands on a page."""
    form = page[: page.index('value="mine"')]
    fields = {
        name: re.findall(rf'name="{name}" value="([^"]*)"', form)[-1]
        for name in ("based_on", "aside", "place")
    }
    return send(draft, client, op="mine", **fields, **options)


class TestTwoAtOnce:
    def test_the_second_sees_what_changed(self, send, draft, other, client_of):
        seen = now(draft)
        send(draft, **{**WIDTH, "value": "40"})
        answered = send(draft, client_of(other), based_on=seen, **PART)
        page = words(answered)

        assert "Overall width: wanted size changed from 36 to 40." in page
        assert "Theirs and yours are both in." in page
        assert entry(draft, "parts", "hook_rail")

    @pytest.mark.parametrize("htmx", [True, False])
    def test_nothing_is_lost_of_a_conflict(self, htmx, send, draft, other, client_of):
        seen, client = now(draft), client_of(other)
        send(draft, **{**WIDTH, "value": "40"})
        fields = {**WIDTH, "value": "32", "based_on": seen}
        answered = send(draft, client, htmx=htmx, **fields)
        if not htmx:
            answered = client.get(answered.headers["Location"])
        page = text(answered)

        assert "you changed its wanted size to 32, and it was changed to 40" in page
        assert "Overall width: wanted size changed from 36 to 40." in page
        assert re.search(r'id="meanwhile" tabindex="-1"[^>]* autofocus', page)

        answered = put_mine(send, draft, page, client, htmx=htmx)

        assert entry(draft, "distances", "overall_width")["value"] == "32"
        if htmx:
            assert "Put mine in" not in text(answered)
        else:
            assert answered.status_code == 302

    def test_it_stays_in_view_until_it_is_decided(
        self, see, send, draft, other, client_of
    ):
        page, client = in_conflict(send, draft, client_of(other))
        url = reverse("draft", args=[draft.plan_id])

        assert "Put mine in" in text(client.get(f"{url}?open=parts:shelf"))
        assert "Put mine in" in text(send(draft, client, **{**PART, "name": ""}))
        assert "Put mine in" not in text(see(draft))

        aside = found(r'name="aside" value="(\d+)"', page)
        page = text(send(draft, client, op="theirs", aside=aside))

        assert "Put mine in" not in page
        assert "Put mine in" not in text(client.get(url))
        assert entry(draft, "distances", "overall_width")["value"] == "40"

    def test_a_third_save_between_does_not_keep_mine_out(
        self, send, draft, other, client_of
    ):
        page, client = in_conflict(send, draft, client_of(other))
        send(draft, **PART)
        answered = put_mine(send, draft, page, client)

        assert answered.status_code == 200
        assert entry(draft, "distances", "overall_width")["value"] == "32"

    @pytest.mark.parametrize("htmx", [True, False])
    def test_refused_it_is_offered_again(self, htmx, send, draft, other, client_of):
        page, client = in_conflict(send, draft, client_of(other))
        send(draft, **{**WIDTH, "value": "41"})
        answered = put_mine(send, draft, page, client, htmx=htmx)
        page = text(answered)

        assert answered.status_code == 422
        assert "This was changed once more" in page
        assert "you changed its wanted size to 32, and it was changed to 41" in page

        put_mine(send, draft, page, client)

        assert entry(draft, "distances", "overall_width")["value"] == "32"

    def test_two_conflicts_are_both_kept_in_view(self, send, draft, other, client_of):
        _page, client = in_conflict(send, draft, client_of(other))
        seen = now(draft)
        send(draft, **{**JOINT, "depth": "1/3"})
        fields = {**JOINT, "depth": "1/4", "based_on": seen}
        page = text(send(draft, client, **fields))

        assert page.count(">Put mine in<") == 2
        assert "1/4 of the thickness, and it was changed to 1/3 of the thickness" in (
            page
        )

    def test_a_part_removed_while_somebody_worked_on_it_stays_whole(
        self, send, draft, other, client_of
    ):
        seen, before = now(draft), document(draft)
        send(draft, op="remove", entry="parts:shelf")
        part = {"entry": "parts:shelf", "stock": "poplar34", "lies": "xyz"}
        answered = send(
            draft, client_of(other), based_on=seen, name="Low shelf", **part
        )
        page = words(answered)

        assert "Low shelf: somebody else removed it while you worked on it." in page
        assert "with all that was tied to it" in page
        assert "Put mine in" not in page
        for name in ("joints", "distances"):
            assert document(draft)[name] == before[name]

    def test_many_changes_are_told_in_few_words(self, send, draft, other, client_of):
        send(draft, op="propose")
        seen = now(draft)
        send(draft, op="remove", entry="parts:divider")
        page = words(send(draft, client_of(other), based_on=seen, **PART))
        told = page[page.index("Somebody else") : page.index("both in")]

        assert "Parts, removed: Centre divider." in told
        assert "Steps, changed: " in told
        assert len(told) < 800
        assert not re.search(r"\b[a-z]+_[a-z]+\b", told)

    def test_without_a_script_it_is_told_too(self, send, draft, other, client_of):
        seen, client = now(draft), client_of(other)
        send(draft, **{**WIDTH, "value": "40"})
        answered = send(draft, client, htmx=False, based_on=seen, **PART)
        url = answered.headers["Location"]

        assert url.endswith("#meanwhile")
        assert "wanted size changed from 36 to 40" in text(client.get(url))


class TestQueries:
    def test_a_change_takes_twelve_at_most(
        self, send, draft, django_assert_max_num_queries
    ):
        with django_assert_max_num_queries(12):
            send(draft, **{**WIDTH, "value": "40"})

    def test_a_page_takes_as_many_whatever_it_holds(
        self, see, draft, empty, django_assert_num_queries
    ):
        for one in (draft, empty):
            with django_assert_num_queries(5):
                see(one)


def test_the_document_is_never_shared_between_requests(see, draft):
    before = engine.plan_text(document(draft))
    see(draft, "open=parts:shelf&name=Changed")

    assert engine.plan_text(document(draft)) == before
