"""Laws that hold for any draft, however it came to be."""

import copy
import json
import random

from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine import draft
from projects.engine.errors import EngineError
from projects.engine.fit.solve import check_plan, solve
from projects.engine.plan.reader import read_plan
from projects.engine.plan.readings import Readings
from projects.engine.plan.records import AXES
from tests.engine.builds import plan as plan_of
from tests.engine.draft.random_drafts import Operations, random_document
from tests.engine.random_plans import random_build

seeds = st.integers(0, 10**9)


def accepted(document):
    """Say whether the strict reader and the check take it."""
    try:
        check_plan(read_plan(json.dumps(document)))
    except EngineError:
        return False
    return True


def in_order(document):
    return json.dumps(document, sort_keys=True)


def worked_on(source):
    """Return a random document after some random operations."""
    document = random_document(source)
    operations = Operations(source)
    for _ in range(source.randint(0, 12)):
        document = operations.once(document)
    return document


@settings(max_examples=80, deadline=None)
@given(seeds)
def test_a_look_raises_nothing_and_says_what_stands_in_the_way(seed):
    document = worked_on(random.Random(seed))
    look = draft.look(document)
    needed = any(question.needed for question in look.questions)

    assert look.ready is accepted(document)
    assert look.ready is not bool(
        look.faults or look.contradictions or look.troubles or needed
    )
    for note in look.notes:
        assert note.text
        for ref in note.at:
            entry = (
                {} if ref.list_name == "head" else document[ref.list_name][ref.index]
            )
            assert not ref.key or entry["key"] == ref.key
    assert {one.box.key for one in look.drawn} == {
        part.key for part in (look.plan.parts if look.plan else ())
    }


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_an_operation_leaves_the_old_document_alone(seed):
    source = random.Random(seed)
    document = random_document(source)
    before = copy.deepcopy(document)
    Operations(source).once(document)

    assert in_order(document) == in_order(before)


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_boxes_have_the_sizes_of_the_engine(seed):
    document, _ = random_build(seed)
    plan = plan_of(document)
    look = draft.look(document)
    try:
        solution = solve(plan, Readings())
    except EngineError:
        assert not look.ready
        return
    assert look.sizes == solution.sizes
    assert look.gives == tuple(
        gives for gives in look.gives if solution.gives_mm(gives.at[0].key)
    )
    for one in look.drawn:
        part = plan.part_by_key[one.box.key]
        for axis in AXES:
            low, high = getattr(one.box, axis)
            assert high - low == solution.sizes[part.key, part.dimension_on(axis)]


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_boxes_lie_as_the_joints_say(seed):
    document = worked_on(random.Random(seed))
    look = draft.look(document)
    if look.plan is None or look.contradictions or look.troubles:
        return
    boxes = {one.box.key: one for one in look.drawn}
    for joint in look.plan.joints:
        ends = [boxes[face.part] for face in (joint.guest, joint.host)]
        axis = joint.host.axis
        if any(axis in one.guessed_sizes for one in ends) or not joint.depth.length:
            continue
        guest, host = (
            getattr(one.box, axis)[face.is_high]
            for one, face in zip(ends, (joint.guest, joint.host), strict=True)
        )
        inside = host - guest if joint.host.is_high else guest - host
        assert inside == joint.depth.length.mm


@settings(max_examples=40, deadline=None)
@given(seeds)
def test_the_file_of_a_document_is_the_document(seed):
    document = worked_on(random.Random(seed))
    text = draft.plan_text(document)

    assert in_order(json.loads(text)) == in_order(document)
    assert draft.plan_text(json.loads(text)) == text
    if accepted(document):
        again = draft.plan_text(draft.read_document(text))
        assert draft.plan_text(draft.read_document(again)) == again
        plans = [read_plan(one) for one in (text, again)]
        for name in ("parts", "stock", "joints", "distances", "flush", "even"):
            assert getattr(plans[0], name) == getattr(plans[1], name)


@settings(max_examples=20, deadline=None)
@given(seeds, st.sampled_from(["in", "mm"]))
def test_other_units_change_no_size(seed, units):
    document, _ = random_build(seed)
    changed = draft.set_units(document, units)
    before, after = (draft.look(one) for one in (document, changed))

    assert changed["units"] == units
    assert before.sizes == after.sizes
    assert not after.faults


@settings(max_examples=30, deadline=None)
@given(seeds)
def test_merging_with_nobody_else_changes_nothing(seed):
    source = random.Random(seed)
    base = random_document(source)
    mine, operations = base, Operations(source)
    for _ in range(4):
        mine = operations.once(mine)

    def same(one, other):
        assert in_order(one | {"format": 0}) == in_order(other | {"format": 0})

    for merged in (draft.merge(base, mine, base), draft.merge(base, base, mine)):
        assert not merged.conflicts
        same(without_nothing(merged.document), without_nothing(mine))
    assert bool(draft.differences(base, mine)) is (
        in_order(without_nothing(base)) != in_order(without_nothing(mine))
    )


def without_nothing(document):
    """Return a document without fields that say nothing."""
    return {name: value for name, value in document.items() if value not in ([], None)}
