"""An instructor writes a plan in a real browser, alone and with somebody else."""

import json
import re
from contextlib import contextmanager

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from projects import adapters, drafting
from projects.engine.fit.solve import check_plan
from projects.engine.plan.reader import read_plan
from projects.models import Plan
from tests.browser import LAPTOP, watched_page
from tests.factories import plan_bytes

BENCH = json.loads(plan_bytes())
NAMES = {part["key"]: part["name"] for part in BENCH["parts"]}


def start(page, title):
    page.goto("/plans/")
    page.get_by_role("link", name="Start a plan").click()
    # the title is where typing starts, once the page is there
    expect(page.locator("input[name=title]")).to_be_focused()
    page.keyboard.type(title)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text(title)


@contextmanager
def settled(page, target):
    """Wait, after what is done inside, until the answer for `target` is swapped in.

    The number of open checks comes by itself, and says nothing of the form.
    """
    page.evaluate(
        "target => { window.swapped = new Promise(done => document.addEventListener("
        "'htmx:afterSettle', event => event.detail.target.id === target && done(true)"
        ")) }",
        target,
    )
    yield
    assert page.evaluate("() => window.swapped")


class Form:
    """The form that is open on a draft's page."""

    def __init__(self, page):
        self.page = page

    def open(self, list_name):
        self.page.locator(f"#open-{list_name}-new").click()
        expect(self.page.locator("#draft-form")).to_be_visible()

    def type(self, **fields):
        for name, text in fields.items():
            self.page.locator(f"#f-{name}").fill(text)

    def pick(self, **fields):
        """Pick by the words a person reads, or by key."""
        for name, words in fields.items():
            field = self.page.locator(f"#f-{name}")
            if field.get_attribute("hx-get") is None:
                field.select_option(words)
            elif field.input_value() != words:
                with settled(self.page, "draft-form"):
                    field.select_option(words)
                expect(self.page.locator(f"#f-{name}")).to_have_value(words)

    def keep(self, *, more=False):
        name = "Add, and another" if more else "Add"
        button = self.page.get_by_role("button", name=name, exact=True)
        with (
            self.page.expect_response(lambda got: got.url.endswith("/draft/")) as got,
            settled(self.page, "draft"),
        ):
            button.click()
        assert got.value.status == 200
        if more:
            expect(self.page.locator("#draft-form")).to_be_visible()
        else:
            expect(self.page.locator("#draft-form")).to_have_count(0)


def each(form, list_name, entries, fill):
    """Add every entry of a list, one after the other."""
    form.open(list_name)
    for n, entry in enumerate(entries, start=1):
        fill(entry)
        form.keep(more=n < len(entries))


def add_all(page, plan):
    form = Form(page)

    def stock(entry):
        form.type(name=entry["name"], thickness=entry["thickness"])
        form.type(species=entry["species"])
        form.pick(kind=entry["kind"])

    def part(entry):
        form.type(name=entry["name"])
        names = {stock["key"]: stock["name"] for stock in plan["stock"]}
        form.page.locator("#f-stock").select_option(label=names[entry["stock"]])
        form.pick(lies="".join(entry[d] for d in ("length", "width", "thickness")))

    each(form, "stock", plan["stock"], stock)
    each(form, "parts", [p for p in plan["parts"] if p["key"] != "right_side"], part)
    mirror(page, "left_side", "right_side")
    keys = keys_by_name(page)
    add_ties(form, plan, keys)


def mirror(page, key, partner):
    page.locator(f"#open-parts-{key}").click()
    page.get_by_role("button", name="Make its mirror image").click()
    expect(page.locator(f"#open-parts-{partner}")).to_contain_text("mirror of")


def keys_by_name(page):
    """Return which key the page gave each part of the plan file."""
    Form(page).open("joints")
    options = page.locator("#f-guest_part option").all()
    keys = {option.text_content(): option.get_attribute("value") for option in options}
    page.get_by_role("link", name="Close").click()
    expect(page.locator("#draft-form")).to_have_count(0)
    return {key: keys[name] for key, name in NAMES.items()}


def add_ties(form, plan, keys):
    def face(text):
        part, name = text.split(".")
        return keys[part], name

    def ends(one, other, start, end):
        part, name = face(start)
        form.pick(**{f"{one}_part": part})
        form.pick(**{f"{one}_face": name})
        part, name = face(end)
        form.pick(**{f"{other}_part": part, f"{other}_face": name})

    def joint(entry):
        form.pick(kind=entry["kind"])
        part, name = face(entry["guest"])
        form.pick(guest_part=part)
        form.pick(guest_face=name)
        form.pick(host_part=face(entry["host"])[0])
        share("depth", entry.get("depth"))
        for n, stop in enumerate(entry.get("stops", ()), start=1):
            form.pick(**{f"stop_at_{n}": stop["at"]})
            form.type(**{f"stop_by_{n}": stop["by"]})
        if tenon := entry.get("tenon"):
            share("tenon_thickness", tenon["thickness"])
            form.type(edge_shoulder=tenon["edge_shoulder"])
        form.type(clearance=entry.get("clearance", ""))

    def share(name, value):
        if isinstance(value, dict):
            form.type(**{name: value["of_thickness"]})
            form.pick(**{f"{name}_as": "share"})
        elif value:
            form.type(**{name: value})
            form.pick(**{f"{name}_as": "length"})

    def distance(entry):
        ends("from", "to", entry["from"], entry["to"])
        form.type(name=entry["name"], value=entry.get("value", ""))
        form.type(held=str(entry.get("held", "")))
        if entry.get("measure"):
            form.page.get_by_label("Measured on the dry assembly").check()
            form.page.get_by_text("Parts cut to that measurement").click()
            for part in entry["fits"]:
                form.page.get_by_label(NAMES[part], exact=True).check()

    each(form, "joints", plan["joints"], joint)
    each(form, "distances", plan["distances"], distance)
    pairs = [(faces[0], face) for faces in plan["flush"] for face in faces[1:]]
    each(form, "flush", pairs, lambda pair: ends("from", "to", *pair))
    form.open("even")
    for n, (start, end) in enumerate(plan["even"][0], start=1):
        ends(f"from{n}", f"to{n}", start, end)
    form.keep()


class TestFromAnEmptyPage:
    def test_the_boot_bench_comes_out_as_in_its_plan_file(
        self, live_server, laptop, sign_in, colleague
    ):
        page = sign_in(laptop, colleague)
        start(page, "Hall boot bench")
        add_all(page, BENCH)
        expect(page.get_by_role("heading", name="Ready")).to_be_visible()
        expect(page.locator(".draft-drawing svg")).to_be_visible()
        page.get_by_role("button", name="Publish").click()
        expect(page.locator("#told")).to_be_focused()
        expect(page.locator("#told")).to_contain_text("Published as revision 1.")
        plan = Plan.objects.get()
        made = check_plan(adapters.plan_of(plan.revisions.get()))
        filed = check_plan(read_plan(plan_bytes()))
        names = {part.key: part.name for part in made.plan.parts}
        sizes = {(names[key], d): mm for (key, d), mm in made.sizes.items()}

        assert sizes == {(NAMES[key], d): mm for (key, d), mm in filed.sizes.items()}


@pytest.fixture
def draft(shop_class):
    """The class's boot bench being changed."""
    plan = shop_class.revision.plan
    return drafting.edit(plan, plan.owner)


@pytest.fixture
def page(instructor_laptop, draft):
    """A laptop with the draft open."""
    instructor_laptop.goto(address(draft))
    return instructor_laptop


def address(draft):
    return reverse("draft", args=[draft.plan_id])


def height_of(page):
    """The size that stands in the line of a distance."""
    return page.locator("#open-distances-seat_height .entry-size .size")


def set_height(page, text):
    page.locator("#open-distances-seat_height").click()
    page.locator("#f-value").fill(text)
    page.keyboard.press("Enter")
    expect(page.locator("#draft-form")).to_have_count(0)


def undo(page):
    return page.get_by_role("button", name="Undo: ")


def redo(page):
    return page.get_by_role("button", name="Redo: ")


class TestUndo:
    def test_three_back_and_one_forth(self, page):
        for text in ("17", "16", "15"):
            set_height(page, text)
        for left in ("16", "17", "18"):
            undo(page).click()
            expect(height_of(page)).to_have_text(left)
        expect(page.get_by_role("button", name="Nothing to undo")).to_be_disabled()
        redo(page).click()
        expect(height_of(page)).to_have_text("17")

    def test_it_is_kept_between_visits(self, page):
        set_height(page, "17")
        page.goto("/plans/")
        page.go_back()
        undo(page).click()
        expect(height_of(page)).to_have_text("18")

    def test_it_is_in_view_and_covers_nothing_focused(self, page):
        set_height(page, "17")
        for width, height in ((1280, 800), (820, 1180)):
            page.set_viewport_size({"width": width, "height": height})
            page.evaluate("scrollTo(0, document.body.scrollHeight)")
            expect(undo(page)).to_be_in_viewport(ratio=0.9)
            page.locator("#open-steps-new").focus()
            for _n in range(12):
                page.keyboard.press("Shift+Tab")
            covered = page.evaluate(
                "document.activeElement.getBoundingClientRect().top < "
                "document.querySelector('.draft-bar').getBoundingClientRect().bottom"
            )

            assert not covered

    def test_the_keyboard_undoes_where_nothing_is_typed(self, page):
        set_height(page, "17")
        page.keyboard.press("Control+z")
        expect(height_of(page)).to_have_text("18")
        page.keyboard.press("Control+Shift+Z")
        expect(height_of(page)).to_have_text("17")
        page.locator("#open-distances-seat_height").click()
        page.locator("#f-value").press("Control+A")
        page.keyboard.type("15")
        page.keyboard.press("Control+z")
        expect(page.locator("#f-value")).not_to_have_value("15")
        expect(redo(page)).to_have_count(0)


class TestByKeyboard:
    def test_an_entry_is_opened_changed_and_left(self, page):
        line = page.locator("#open-distances-seat_height")
        line.focus()
        page.keyboard.press("Enter")
        expect(page.locator("#f-value")).to_be_focused()
        page.keyboard.press("Control+A")
        page.keyboard.type("17 1/2")
        page.keyboard.press("Enter")
        expect(line).to_be_focused()
        expect(height_of(page)).to_contain_text("17")

    def test_what_is_wrong_is_where_the_keyboard_is(self, page):
        page.locator("#open-joints-seat_left").focus()
        page.keyboard.press("Enter")
        expect(page.locator("#f-depth")).to_be_focused()
        page.keyboard.press("Control+A")
        page.keyboard.type("3/x")
        page.keyboard.press("Enter")
        expect(page.locator("#f-depth")).to_have_attribute("aria-invalid", "true")
        expect(page.locator("#f-depth")).to_be_focused()
        expect(page.locator("#f-depth")).to_have_value("3/x")

    def test_the_page_does_not_jump(self, page):
        line = page.locator("#open-distances-seat_height")
        line.scroll_into_view_if_needed()
        before = page.evaluate("scrollY")
        line.click()
        expect(page.locator("#draft-form")).to_be_visible()
        page.get_by_role("link", name="Close").click()
        expect(line).to_be_focused()

        assert abs(page.evaluate("scrollY") - before) < 200


class TestPointing:
    def test_two_parts_in_the_drawing_become_a_joint(self, page):
        part = page.locator(".draft-drawing [data-part=toe_board]")
        part.click()
        expect(page.get_by_role("link", name="Open Toe board")).to_be_visible()
        expect(part).to_have_class(re.compile("drawing-picked"))
        middle = {"x": 90, "y": 60}  # its edges lie behind other parts
        page.locator(".draft-drawing [data-part=back]").click(position=middle)
        page.locator("#draft-picked").get_by_role("link", name="Join ").click()
        expect(page.locator("#f-guest_part")).to_have_value(
            re.compile("toe_board|back")
        )
        expect(page.locator("#f-host_part")).to_have_value(re.compile("toe_board|back"))


class TestWhatIsTyped:
    def test_opening_another_entry_keeps_it(self, page):
        page.locator("#open-distances-seat_height").click()
        page.locator("#f-value").fill("17")
        page.locator("#open-stock-ply14").click()
        expect(page.locator("#f-thickness")).to_have_value("1/4")
        expect(height_of(page)).to_have_text("17")

    def test_a_refused_form_keeps_it(self, page, expected_errors):
        expected_errors.append("422")
        Form(page).open("parts")
        page.locator("#f-count").fill("4")
        page.locator("#f-count").press("Enter")
        expect(page.locator("#f-name")).to_be_focused()
        expect(page.locator("#f-name")).to_have_attribute("aria-invalid", "true")
        expect(page.locator("#f-count")).to_have_value("4")


class TestTwoInstructors:
    @pytest.fixture
    def second(self, browser, live_server, sign_in, draft, expected_errors, colleague):
        drafting.share(draft.plan, colleague.username)
        for page in watched_page(browser, live_server.url, LAPTOP, expected_errors):
            sign_in(page, colleague).goto(address(draft))
            yield page

    def test_neither_loses_what_they_wrote(self, page, second):
        for device, text in ((page, "17"), (second, "16")):
            device.locator("#open-distances-seat_height").click()
            device.locator("#f-value").fill(text)
        page.keyboard.press("Enter")
        expect(height_of(page)).to_have_text("17")
        second.keyboard.press("Enter")
        told = second.get_by_role("alert")
        expect(told).to_contain_text("you changed its wanted size to 16")
        expect(told).to_be_focused()
        expect(told).to_be_in_viewport()
        expect(height_of(second)).to_have_text("17")
        page.locator("#open-distances-overall_width").click()
        page.locator("#f-value").fill("40")
        page.keyboard.press("Enter")
        second.get_by_role("button", name="Put mine in").click()
        expect(height_of(second)).to_have_text("16")
        expect(second.locator("#open-distances-seat_height")).to_be_focused()
        page.reload()
        expect(height_of(page)).to_have_text("16")

    def test_both_are_in_where_they_wrote_at_different_things(self, page, second):
        second.locator("#open-distances-overall_width").click()
        second.locator("#f-value").fill("40")
        set_height(page, "17")
        second.keyboard.press("Enter")
        expect(second.get_by_role("alert")).to_contain_text("both in")
        expect(height_of(second)).to_have_text("17")


class TestEverybodyCanUseIt:
    @pytest.mark.parametrize(
        "query", ["", "?open=joints:rail_left", "?open=parts:shelf&sure=1",
                  "?open=even:0", "?pick=shelf&pick=seat"]
    )  # fmt: skip
    def test_axe_finds_nothing(self, query, page, draft, axe):
        page.goto(address(draft) + query)
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            axe(page)

    @pytest.mark.parametrize("name", ["draft-start", "draft-try", "draft-import",
                                      "draft-editors"])  # fmt: skip
    def test_axe_finds_nothing_around_it(self, name, page, draft, axe):
        arguments = () if name == "draft-start" else (draft.plan_id,)
        page.goto(reverse(name, args=arguments))
        axe(page)

    def test_nothing_runs_over_the_side(self, page, draft):
        page.goto(address(draft) + "?open=joints:rail_left")
        for width, height in ((820, 1180), (640, 400), (390, 844), (320, 640)):
            page.set_viewport_size({"width": width, "height": height})

            assert page.evaluate("document.documentElement.scrollWidth") <= width

    def test_a_finger_hits_every_target(self, phone, sign_in, draft):
        sign_in(phone, draft.plan.owner).goto(address(draft) + "?open=joints:rail_left")
        small = phone.evaluate(
            "[...document.querySelectorAll('main a, main button, main select, main "
            "input:not([type=hidden])')].filter(e => e.getClientRects().length && "
            "e.getBoundingClientRect().height < 47.5).map(e => e.outerHTML)"
        )

        assert not small

    def test_it_works_without_a_script(self, browser, live_server, sign_in, draft):
        device = {**LAPTOP, "java_script_enabled": False}
        for page in watched_page(browser, live_server.url, device, []):
            sign_in(page, draft.plan.owner).goto(address(draft))
            page.locator("#open-distances-seat_height").click()
            page.locator("#f-value").fill("17")
            page.get_by_role("button", name="Save").click()
            expect(height_of(page)).to_have_text("17")
