"""An instructor opens a class; a new student signs in with what was printed."""

from playwright.sync_api import expect

from tests.factories import PASSWORD, plan_bytes


def test_from_a_plan_file_to_a_students_first_reading(instructor_laptop, phone, axe):
    laptop = instructor_laptop
    laptop.goto("/")
    laptop.get_by_role("link", name="Plans").click()
    sent = {
        "name": "tray.json",
        "mimeType": "application/json",
        "buffer": plan_bytes("tool_tray"),
    }
    laptop.get_by_label("Plan file").set_input_files(sent)
    laptop.get_by_role("button", name="Check and publish").click()
    expect(laptop.get_by_role("heading", name="Tool tray", level=1)).to_be_visible()

    laptop.goto("/classes/new/")
    laptop.get_by_label("Class").fill("Summer mornings")
    laptop.get_by_label("Plan").select_option(label="Tool tray, revision 1")
    laptop.get_by_label("Students").fill("Ann Other\r\n\r\n  Zoë   Brandt \nBo Lim")
    laptop.get_by_role("button", name="Open the class").click()
    expect(laptop.get_by_role("heading", name="First sign-ins")).to_be_visible()
    axe(laptop)
    row = laptop.get_by_role("row", name="Zoë Brandt").get_by_role("cell")
    username, password = row.all_inner_texts()[-2:]
    laptop.emulate_media(media="print")
    expect(laptop.get_by_text(password)).to_be_visible()
    expect(laptop.get_by_role("link", name="To the class")).to_be_hidden()

    phone.goto("/")
    phone.get_by_label("Sign-in name").fill(username)
    phone.get_by_label("Password").fill(password)
    phone.get_by_role("button", name="Sign in").tap()
    expect(phone.locator("#next-what")).to_have_text("Measure 12 mm pine")
    phone.locator("#length").fill("12.1")
    phone.get_by_role("button", name="Keep it", exact=True).tap()
    expect(phone.locator("#next")).to_contain_text("So far: 12.1 mm")

    laptop.emulate_media(media="screen")
    laptop.get_by_role("link", name="To the class").click()
    expect(laptop.get_by_role("row", name="Zoë Brandt")).to_contain_text("measuring")
    laptop.get_by_role("link", name="Zoë Brandt", exact=True).click()
    expect(laptop.locator("#next")).to_contain_text("So far: 12.1 mm")


def test_a_broken_plan_is_told_on_the_page(instructor_laptop, expected_errors, axe):
    expected_errors.append("422")
    laptop = instructor_laptop
    laptop.goto("/plans/")
    broken = plan_bytes().replace(b'"rabbet"', b'"glue"')
    sent = {"name": "x.json", "mimeType": "application/json", "buffer": broken}
    laptop.get_by_label("Plan file").set_input_files(sent)
    laptop.get_by_role("button", name="Check and publish").click()

    told = laptop.get_by_role("alert")
    expect(told).to_contain_text("Nothing was published.")
    expect(told).to_contain_text("joints[0].kind")
    axe(laptop)


def test_signing_in_and_out(phone, student):
    phone.goto("/sign-in/")
    phone.get_by_label("Sign-in name").fill(student.username.upper())
    phone.get_by_label("Password").fill("wrong")
    phone.get_by_role("button", name="Sign in").tap()
    expect(phone.get_by_role("alert")).to_contain_text("don't fit together")
    phone.get_by_label("Password").fill(PASSWORD)
    phone.get_by_role("button", name="Sign in").tap()
    expect(phone.locator("#next")).to_be_visible()
    phone.get_by_role("button", name="Sign out").tap()
    expect(phone.get_by_role("heading", name="Sign in")).to_be_visible()
