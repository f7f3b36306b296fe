"""The steps of a draft: its forms, pictures, proposal and order."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from projects import drafting
from projects.models import PlanPicture
from projects.plan_zip import pack
from tests.drafts import document, now, text, words
from tests.factories import plan_bytes

HTMX = {"HX-Request": "true"}
STEP = {
    "entry": "steps:new",
    "title": "Cut the dadoes",
    "stage": "joinery",
    "machine": "table_saw",
    "way_machine_0": "router",
    "way_0": "Clamp a fence\r\nacross the part.",
    "parts": ["left_side"],
    "joints": ["shelf_left"],
    "measured_first": ["stock:poplar34"],
    "own_cautions": "Mind the knot.\r\n\r\n  Left and  right. ",
    "note": "One pass.\r\nThen another.",
}
KEPT = {
    "key": "cut_the_dadoes",
    "title": "Cut the dadoes",
    "stage": "joinery",
    "machine": "table_saw",
    "other_ways": [{"machine": "router", "note": "Clamp a fence\nacross the part."}],
    "parts": ["left_side"],
    "joints": ["shelf_left"],
    "measured_first": ["stock:poplar34"],
    "cautions": ["Mind the knot.", "Left and right."],
    "note": "One pass.\nThen another.",
}


def photo(name="dado.png"):
    out = io.BytesIO()
    Image.new("RGB", (60, 40), "olive").save(out, "PNG")
    return SimpleUploadedFile(name, out.getvalue())


@pytest.fixture
def see(as_instructor):
    """Fetch a draft's page: see(draft, "open=steps:new")."""

    def fetch(draft, query=""):
        return as_instructor.get(f"{reverse('draft', args=[draft.plan_id])}?{query}")

    return fetch


@pytest.fixture
def send(as_instructor):
    """Send a form of a draft's page, as htmx does unless told otherwise."""

    def post(draft, *, client=as_instructor, htmx=True, **fields):
        fields = {"op": "save", "based_on": now(draft), **fields}
        url = reverse("draft", args=[draft.plan_id])
        return client.post(url, fields, headers=HTMX if htmx else {})

    return post


def steps(draft):
    return document(draft)["steps"]


def titles(draft):
    return [step["title"] for step in steps(draft)]


def what(draft):
    draft.refresh_from_db()
    return drafting.current_change(draft).what


@pytest.fixture
def bare(draft, instructor):
    """The boot bench without steps."""

    def emptied(document):
        return {**document, "steps": []}

    drafting.change(
        draft,
        instructor,
        based_on=now(draft),
        operation=emptied,
        what=lambda _old, _new: "no steps",
    )
    return draft


@pytest.fixture
def stepped(bare, send):
    """The boot bench with three steps."""
    for title in ("Plane", "Saw", "Glue"):
        send(bare, entry="steps:new", title=title, stage="mill")
    return bare


class TestOneStep:
    def test_it_is_added_with_all_it_says(self, send, bare):
        page = words(send(bare, **STEP))

        assert steps(bare) == [KEPT]
        assert what(bare) == "Cut the dadoes added"
        assert "1. Cut the dadoes Joinery; Table saw; Left side" in page

    def test_it_opens_with_all_it_says(self, see, send, bare):
        send(bare, **STEP)
        page = text(see(bare, "open=steps:cut_the_dadoes"))

        assert 'value="Cut the dadoes"' in page
        assert '<option value="joinery" selected>' in page
        assert 'name="parts" value="left_side" checked' in page
        assert 'name="joints" value="shelf_left" checked' in page
        assert 'name="measured_first" value="stock:poplar34" checked' in page
        assert "Clamp a fence\nacross the part.</textarea>" in page
        assert "Mind the knot.\nLeft and right.</textarea>" in page

    def test_saved_as_it_stood_nothing_changes(self, send, bare):
        send(bare, **STEP)
        before = now(bare)
        send(bare, **{**STEP, "entry": "steps:cut_the_dadoes"})

        assert now(bare) == before

    def test_it_is_changed_and_the_change_undone(self, send, bare):
        send(bare, **STEP)
        changed = {**STEP, "entry": "steps:cut_the_dadoes", "machine": "none"}
        send(bare, **changed)

        assert "machine" not in steps(bare)[0]
        assert what(bare) == "machine of Cut the dadoes"

        send(bare, op="undo")

        assert steps(bare) == [KEPT]

    def test_it_is_removed(self, send, stepped):
        send(stepped, op="remove", entry="steps:saw")

        assert titles(stepped) == ["Plane", "Glue"]
        assert what(stepped) == "Saw removed"

    def test_it_works_without_a_script(self, send, bare):
        assert send(bare, htmx=False, **STEP).status_code == 302
        assert steps(bare) == [KEPT]

    def test_a_new_one_begins_with_the_stage_of_the_last(self, see, send, bare):
        send(bare, **STEP)

        page = text(see(bare, "open=steps:new"))

        assert '<option value="joinery" selected>' in page

    def test_cautions_kept_by_key_stay_until_unticked(self, see, send, bare):
        known = {**STEP, "known_cautions": ["eyes", "dust"]}
        send(bare, **known)
        entry = {"entry": "steps:cut_the_dadoes"}
        send(bare, **{**known, **entry, "known_cautions": ["dust"]})

        assert steps(bare)[0]["cautions"] == ["dust", *KEPT["cautions"]]
        page = text(see(bare, "open=steps:cut_the_dadoes"))
        assert 'name="known_cautions" value="dust" checked' in page


class TestWhatIsWrong:
    def test_a_title_is_needed_and_nothing_typed_is_lost(self, send, bare):
        answered = send(bare, **{**STEP, "title": ""})
        page = text(answered)

        assert answered.status_code == 422
        assert "Give the step a title" in page
        assert 'id="f-title-error"' in page
        assert 'name="parts" value="left_side" checked' in page
        assert "One pass.\r\nThen another.</textarea>" in page
        assert steps(bare) == []

    def test_another_way_needs_its_machine(self, send, bare):
        answered = send(bare, **{**STEP, "way_machine_0": ""})

        assert answered.status_code == 422
        assert "Choose the machine of this other way." in text(answered)
        assert "Clamp a fence" in text(answered)

    def test_what_cannot_be_read_is_told_at_its_field(self, send, bare):
        page = text(send(bare, **{**STEP, "parts": ["bookcase"]}))

        assert 'id="f-parts-error"' in page
        assert "There is no part 'bookcase'." in page
        assert 'value="bookcase" checked' in page

    def test_a_damaged_step_still_opens(self, bare, instructor, see):
        broken = {"key": "x", "title": 5, "parts": "all", "other_ways": [1, {}],
                  "cautions": {}, "picture": "../x", "machine": "laser"}  # fmt: skip
        drafting.change(
            bare,
            instructor,
            based_on=now(bare),
            operation=lambda document: {**document, "steps": [broken, 3]},
            what=lambda _old, _new: "damage",
        )

        assert see(bare, "open=steps:x").status_code == 200

    def test_a_step_that_is_not_there_is_not_found(self, see, bare):
        assert see(bare, "open=steps:nothing").status_code == 404


class TestOrder:
    def test_moved_up_and_down(self, send, stepped):
        send(stepped, op="up", entry="steps:glue")

        assert titles(stepped) == ["Plane", "Glue", "Saw"]
        assert what(stepped) == "Glue moved"

        send(stepped, op="down", entry="steps:plane")

        assert titles(stepped) == ["Glue", "Plane", "Saw"]

    def test_dragged_to_a_place(self, send, stepped):
        send(stepped, op="move:0", entry="steps:glue")

        assert titles(stepped) == ["Glue", "Plane", "Saw"]

        send(stepped, op="undo")

        assert titles(stepped) == ["Plane", "Saw", "Glue"]

    @pytest.mark.parametrize("op", ["move:9", "move:x", "move:", "move:-1"])
    def test_to_no_place_it_stays(self, op, send, stepped):
        assert send(stepped, op=op, entry="steps:glue").status_code == 422
        assert titles(stepped) == ["Plane", "Saw", "Glue"]

    def test_two_at_once_both_stay(self, send, stepped, other, client_of):
        before = now(stepped)
        send(stepped, entry="steps:saw", title="Saw", stage="mill", machine="band_saw")
        send(
            stepped,
            client=client_of(other),
            based_on=before,
            entry="steps:saw",
            title="Saw all",
            stage="mill",
        )

        assert steps(stepped)[1]["title"] == "Saw all"
        assert steps(stepped)[1]["machine"] == "band_saw"

    def test_what_is_impossible_is_told_and_publishes(self, see, send, bare):
        send(bare, entry="steps:new", title="Glue", stage="assembly")
        send(bare, entry="steps:new", title="Plane", stage="mill")
        page = words(see(bare))

        assert '"Plane" belongs to milling, but comes after "Glue"' in page
        assert "more about the order" in page
        assert "Every size is fixed and nothing contradicts." in page


class TestProposal:
    def test_it_takes_the_place_of_what_is_there(self, see, send, stepped):
        assert "Propose anew" in words(see(stepped))

        send(stepped, op="propose")

        assert len(steps(stepped)) > 5
        assert "Plane" not in titles(stepped)
        assert what(stepped) == "steps proposed"
        assert "belongs to" not in words(see(stepped))

        send(stepped, op="undo")

        assert titles(stepped) == ["Plane", "Saw", "Glue"]

    def test_without_steps_it_is_offered_from_the_joints(self, see, send, bare):
        assert "Propose steps from the joints" in words(see(bare))
        assert send(bare, op="propose", htmx=False).status_code == 302
        assert steps(bare)

    def test_a_plan_without_parts_has_none(self, see, send, empty):
        assert "Propose" not in words(see(empty))

        answered = send(empty, op="propose")

        assert answered.status_code == 422
        assert "once the plan has parts" in words(answered)


class TestPictures:
    def test_one_is_kept_and_shown(self, see, send, bare, as_instructor):
        send(bare, **STEP, picture_file=photo())
        name = steps(bare)[0]["picture"]
        url = reverse("plan-picture", args=[bare.plan_id, name])

        assert name.startswith("dado-")
        assert as_instructor.get(url).content.startswith(b"\xff\xd8")
        assert url in text(see(bare, "open=steps:cut_the_dadoes"))

    def test_saving_keeps_it_and_a_button_takes_it_out(self, see, send, bare):
        send(bare, **STEP, picture_file=photo())
        name = steps(bare)[0]["picture"]
        again = {**STEP, "entry": "steps:cut_the_dadoes", "picture": name}
        send(bare, **again)

        assert steps(bare)[0]["picture"] == name

        page = text(send(bare, **again, **{"op": "save:unpictured"}))

        assert steps(bare) == [KEPT]
        assert 'name="entry" value="steps:cut_the_dadoes"' in page

    @pytest.mark.parametrize("data", [b"GIF89a", b"<svg/>", b"\x89PNG\r\n\x1a\n"])
    def test_what_is_none_is_told_at_its_field(self, data, send, bare):
        file = SimpleUploadedFile("dado.png", data)
        answered = send(bare, **STEP, picture_file=file)

        assert answered.status_code == 422
        assert "dado.png: this is not a JPEG, PNG or WebP" in text(answered)
        assert 'id="f-picture-error"' in text(answered)
        assert 'value="Cut the dadoes"' in text(answered)
        assert not PlanPicture.objects.exists()

    def test_a_refused_form_still_has_it(self, send, bare):
        page = text(send(bare, **{**STEP, "title": ""}, picture_file=photo()))
        name = PlanPicture.objects.get().name

        assert f'name="picture" value="{name}"' in page

    def test_it_is_published(self, send, bare, instructor):
        send(bare, **STEP, picture_file=photo())
        drafting.publish(bare, instructor, based_on=now(bare))

        assert steps(bare)[0]["picture"] in bare.plan.revisions.last().document


class TestZip:
    def test_it_is_brought_in_with_its_pictures(self, send, bare, as_instructor):
        send(bare, **STEP, picture_file=photo())
        picture = PlanPicture.objects.get()
        bare.refresh_from_db()
        plan = drafting.file_of(drafting.current_change(bare)).encode()
        zipped = pack(plan, {picture.name: bytes(picture.data)})
        other = drafting.start(bare.plan.owner, title="Another", units="in")
        url = reverse("draft-import", args=[other.plan_id])
        file = SimpleUploadedFile("bench.zip", zipped)

        assert as_instructor.post(url, {"file": file}).status_code == 302
        assert steps(other)[0]["picture"] == picture.name
        assert other.plan.pictures.get().name == picture.name

    def test_of_a_broken_one_nothing_is_kept(self, send, draft, as_instructor):
        before = now(draft)
        url = reverse("draft-import", args=[draft.plan_id])
        out = io.BytesIO()
        Image.new("RGB", (6, 4)).save(out, "PNG")
        for zipped in (
            pack(b"{}", {"a.png": out.getvalue()}),
            pack(plan_bytes(), {"a.png": b"no picture"}),
        ):
            file = SimpleUploadedFile("bench.zip", zipped)

            assert as_instructor.post(url, {"file": file}).status_code == 422

        assert now(draft) == before
        assert not PlanPicture.objects.exists()


def test_a_change_takes_twelve_queries_at_most(
    send, bare, django_assert_max_num_queries
):
    with django_assert_max_num_queries(12):
        send(bare, **STEP)
    with django_assert_max_num_queries(12):
        send(bare, op="propose")
