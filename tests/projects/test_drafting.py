"""Writing a plan: every change kept, undone, merged, published."""

import json

import pytest
from django.db import Error, connection

from projects import drafting
from projects.engine import draft as engine
from projects.engine.errors import EngineError
from projects.models import Draft
from projects.models.append_only import AppendOnlyError
from tests.factories import InstructorFactory, RevisionFactory, plan_bytes

STEPS = 60
WIDTH = "distances:overall_width:value"


@pytest.fixture
def owner(db):
    return InstructorFactory(name="Ottoline Varga")


@pytest.fixture
def other(db):
    return InstructorFactory(name="Bram Tull")


@pytest.fixture
def draft(owner):
    return drafting.start(owner, title="Coat rack", units="in")


@pytest.fixture
def bench(db):
    revision = RevisionFactory.create()
    return drafting.edit(revision.plan, revision.plan.owner)


def now(draft):
    return Draft.objects.get(pk=draft.pk).current


def document(draft):
    draft = Draft.objects.get(pk=draft.pk)
    return drafting.document_of(drafting.current_change(draft))


def change(draft, by, operation, *, based_on=None, what="a change"):
    return drafting.change(
        draft,
        by,
        based_on=now(draft) if based_on is None else based_on,
        operation=operation,
        what=lambda _old, _new: what,
    )


def retitle(title):
    return lambda document: engine.set_title(document, title)


def distance(key, value):
    return lambda document: engine.change_distance(document, key, value=value)


class TestStarting:
    def test_it_holds_a_title_and_nothing_else(self, draft):
        assert document(draft) == engine.blank("Coat rack", units="in")
        assert draft.plan.title == "Coat rack"
        assert not draft.plan.revisions.exists()

    def test_a_published_plan_starts_from_its_newest_revision(self, bench):
        assert drafting.file_of(drafting.current_change(bench)) == (
            plan_bytes().decode()
        )
        assert bench.based_on.number == 1

    def test_a_plan_has_one_draft(self, bench, owner):
        assert drafting.edit(bench.plan, owner) == bench


class TestChanging:
    def test_it_is_kept_with_who_and_what(self, draft, owner):
        made = change(draft, owner, retitle("Hat rack"), what="title").change

        assert document(draft)["title"] == "Hat rack"
        assert (made.by, made.what, made.number, made.parent) == (owner, "title", 2, 1)

    def test_a_plan_that_is_a_draft_only_is_called_as_the_draft(self, draft, owner):
        change(draft, owner, retitle("Hat rack"))
        draft.plan.refresh_from_db()

        assert draft.plan.title == "Hat rack"

    def test_a_published_plan_keeps_its_title_until_it_is_published(self, bench):
        change(bench, bench.plan.owner, retitle("Hat rack"))
        bench.plan.refresh_from_db()

        assert bench.plan.title == "Hall boot bench"

    def test_nothing_changed_is_no_step(self, draft, owner):
        change(draft, owner, retitle("Coat rack"))

        assert now(draft) == 1

    def test_what_is_refused_leaves_nothing(self, draft, owner):
        with pytest.raises(EngineError, match="there is no part"):
            change(draft, owner, lambda d: engine.remove_part(d, "shelf"))

        assert now(draft) == 1
        assert draft.changes.count() == 1

    def test_more_than_a_plan_may_hold_is_refused(self, draft, owner):
        with pytest.raises(EngineError, match="at most 1 MB"):
            change(draft, owner, retitle("x" * 2**20))

        assert draft.changes.count() == 1

    def test_a_state_is_never_changed(self, draft):
        state = draft.changes.get()
        state.what = "other"

        with pytest.raises(AppendOnlyError):
            state.save()
        with pytest.raises(AppendOnlyError):
            draft.changes.update(what="other")

    def test_the_database_refuses_it_too(self, draft):
        with pytest.raises(Error, match="append-only"), connection.cursor() as cursor:
            cursor.execute("UPDATE projects_draftchange SET what = 'other'")


class TestUndo:
    @pytest.fixture
    def long(self, draft, owner):
        for n in range(STEPS):
            change(draft, owner, retitle(f"Rack {n}"), what=f"title {n}")
        return draft

    def test_every_change_can_be_undone_and_redone(self, long):
        for _n in range(STEPS):
            drafting.undo(long, based_on=now(long))

        assert document(long)["title"] == "Coat rack"
        with pytest.raises(EngineError, match="nothing to undo"):
            drafting.undo(long, based_on=now(long))

        for _n in range(STEPS):
            drafting.redo(long, based_on=now(long))

        assert document(long)["title"] == f"Rack {STEPS - 1}"
        with pytest.raises(EngineError, match="nothing to redo"):
            drafting.redo(long, based_on=now(long))

    def test_a_change_after_undo_is_what_redo_finds(self, long, owner):
        drafting.undo(long, based_on=now(long))
        change(long, owner, retitle("Another"))
        drafting.undo(long, based_on=now(long))
        drafting.redo(long, based_on=now(long))

        assert document(long)["title"] == "Another"

    def test_it_does_not_undo_what_somebody_did_meanwhile(self, long, other):
        seen = now(long)
        change(long, other, retitle("Theirs"))

        with pytest.raises(drafting.MovedOnError):
            drafting.undo(long, based_on=seen)
        assert document(long)["title"] == "Theirs"


class TestTwoAtOnce:
    def test_both_are_kept_where_they_touch_different_fields(self, bench, other):
        seen = now(bench)
        change(bench, bench.plan.owner, distance("overall_width", "40"))
        outcome = change(bench, other, distance("seat_height", "17"), based_on=seen)
        values = {d["key"]: d.get("value") for d in document(bench)["distances"]}

        assert (values["overall_width"], values["seat_height"]) == ("40", "17")
        assert [c.text for c in outcome.merged.theirs] == [
            "Overall width: value changed from 36 to 40"
        ]
        assert outcome.aside is None

    def test_of_a_conflict_nothing_is_lost(self, bench, other):
        seen = now(bench)
        change(bench, bench.plan.owner, distance("overall_width", "40"))
        outcome = change(
            bench, other, distance("overall_width", "32"), based_on=seen, what="width"
        )

        assert document(bench)["distances"][0]["value"] == "40"
        assert len(outcome.merged.conflicts) == 1
        kept = drafting.document_of(outcome.aside)
        assert kept["distances"][0]["value"] == "32"

        made = drafting.put_mine(
            bench, other, based_on=now(bench), aside=outcome.aside.number, place=WIDTH
        )

        assert document(bench)["distances"][0]["value"] == "32"
        assert made.change.what == "width"
        assert made.merged is not None
        assert not made.merged.conflicts

    def test_what_others_save_meanwhile_does_not_keep_mine_out(self, bench, other):
        seen = now(bench)
        change(bench, bench.plan.owner, distance("overall_width", "40"))
        aside = change(
            bench, other, distance("overall_width", "32"), based_on=seen
        ).aside.number
        looked_at = now(bench)
        change(bench, bench.plan.owner, distance("seat_height", "17"))
        drafting.put_mine(bench, other, based_on=looked_at, aside=aside, place=WIDTH)
        values = {d["key"]: d.get("value") for d in document(bench)["distances"]}

        assert (values["overall_width"], values["seat_height"]) == ("32", "17")

    def test_what_was_changed_once_more_is_looked_at_first(self, bench, other):
        seen = now(bench)
        change(bench, bench.plan.owner, distance("overall_width", "40"))
        aside = change(
            bench, other, distance("overall_width", "32"), based_on=seen
        ).aside.number
        looked_at = now(bench)
        change(bench, bench.plan.owner, distance("overall_width", "41"))
        put = {"aside": aside, "place": WIDTH}
        with pytest.raises(drafting.MovedOnError):
            drafting.put_mine(bench, other, based_on=looked_at, **put)

        assert document(bench)["distances"][0]["value"] == "41"

        drafting.put_mine(bench, other, based_on=now(bench), **put)

        assert document(bench)["distances"][0]["value"] == "32"
        with pytest.raises(EngineError, match="no longer in conflict"):
            drafting.put_mine(bench, other, based_on=now(bench), **put)

    def test_a_part_removed_since_comes_back_with_its_ties(self, bench, other):
        seen = now(bench)
        owner = bench.plan.owner
        change(bench, owner, lambda d: engine.rename_part(d, "shelf", "Theirs"))
        aside = change(
            bench,
            other,
            lambda d: engine.rename_part(d, "shelf", "Mine"),
            based_on=seen,
        ).aside.number
        joints = document(bench)["joints"]
        change(bench, owner, lambda d: engine.remove_part(d, "shelf"))
        made = drafting.put_mine(
            bench, other, based_on=now(bench), aside=aside, place="parts:shelf:"
        )

        assert document(bench)["joints"] == joints
        assert made.aside is None

    def test_what_is_kept_aside_is_no_step_of_undo_or_redo(self, bench, other):
        seen = now(bench)
        change(bench, bench.plan.owner, distance("overall_width", "40"))
        change(bench, other, distance("overall_width", "32"), based_on=seen)
        drafting.undo(bench, based_on=now(bench))
        drafting.redo(bench, based_on=now(bench))

        assert document(bench)["distances"][0]["value"] == "40"

    @pytest.mark.parametrize("number", [1, 99])
    def test_only_what_is_kept_aside_can_be_put_in(self, number, bench, other):
        with pytest.raises(EngineError):
            drafting.put_mine(
                bench, other, based_on=now(bench), aside=number, place=WIDTH
            )

    def test_an_unknown_state_is_refused(self, bench, other):
        with pytest.raises(EngineError, match="no change number 99"):
            change(bench, other, retitle("Bench"), based_on=99)


class TestPublishing:
    def test_it_becomes_the_next_revision_and_the_draft_goes_on(self, bench):
        owner = bench.plan.owner
        change(bench, owner, distance("overall_width", "40"))
        revision = drafting.publish(bench, owner, based_on=now(bench))
        bench.refresh_from_db()

        assert revision.number == 2
        assert json.loads(revision.document)["distances"][0]["value"] == "40"
        assert bench.based_on == revision
        assert document(bench)["distances"][0]["value"] == "40"

    def test_what_is_published_already_makes_no_revision(self, bench):
        with pytest.raises(drafting.NothingNewError, match="since revision 1"):
            drafting.publish(bench, bench.plan.owner, based_on=now(bench))

        assert bench.plan.revisions.count() == 1

    def test_what_is_not_ready_is_refused(self, draft, owner):
        with pytest.raises(EngineError, match="at least one part"):
            drafting.publish(draft, owner, based_on=now(draft))

        assert not draft.plan.revisions.exists()

    def test_what_nobody_looked_at_is_not_published(self, bench, other):
        seen = now(bench)
        change(bench, other, distance("overall_width", "40"))

        with pytest.raises(drafting.MovedOnError):
            drafting.publish(bench, bench.plan.owner, based_on=seen)


class TestFiles:
    def test_a_plan_file_comes_back_to_the_byte(self, draft, owner):
        drafting.bring_in(draft, owner, data=plan_bytes())
        draft.refresh_from_db()

        assert drafting.file_of(drafting.current_change(draft)) == (
            plan_bytes().decode()
        )

    def test_it_is_one_step(self, draft, owner):
        drafting.bring_in(draft, owner, data=plan_bytes())
        drafting.undo(draft, based_on=now(draft))

        assert document(draft) == engine.blank("Coat rack", units="in")

    def test_a_wrong_one_leaves_the_draft(self, draft, owner):
        with pytest.raises(EngineError):
            drafting.bring_in(draft, owner, data=b"{}")

        assert draft.changes.count() == 1


class TestSharing:
    def test_an_instructor_is_named_by_sign_in_name(self, draft, other):
        drafting.share(draft.plan, f"  {other.username.upper()} ")

        assert list(draft.plan.editors.all()) == [other]

        drafting.unshare(draft.plan, other.username)

        assert not draft.plan.editors.exists()

    def test_others_are_refused(self, draft, owner, student):
        with pytest.raises(EngineError, match="owns this plan"):
            drafting.share(draft.plan, owner.username)
        with pytest.raises(EngineError, match="no instructor signs in as"):
            drafting.share(draft.plan, student.username)
