"""An instructor opens a class; a new student joins with the card that was printed."""

from django.urls import reverse
from playwright.sync_api import expect

from projects.models import NearMiss
from tests.factories import PASSWORD, enrol, plan_bytes


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
    option = laptop.locator("option", has_text="Tool tray, revision 1 of ")
    laptop.get_by_label("Plan").select_option(option.get_attribute("value"))
    laptop.get_by_label("Students").fill("Ann Other\r\n\r\n  Zoë   Brandt \nBo Lim")
    laptop.get_by_role("button", name="Open the class").click()
    expect(laptop.get_by_role("heading", name="3 students")).to_be_visible()
    axe(laptop)
    row = laptop.get_by_role("row", name="Zoë Brandt")
    expect(row).to_contain_text("not yet")
    code = row.locator(".code").inner_text()

    phone.goto("/")
    phone.get_by_role("link", name="Join with a card").tap()
    phone.get_by_label("Code on your card").fill(code.upper().replace("-", " "))
    phone.get_by_role("button", name="Go on").tap()
    expect(phone.get_by_role("heading", name="Hello, Zoë Brandt")).to_be_visible()
    axe(phone)
    phone.get_by_label("Choose a PIN").fill("2580")
    phone.get_by_label("The same PIN again").fill("2580")
    phone.get_by_role("button", name="Keep this PIN and join").tap()
    expect(phone.get_by_role("button", name="Sign out")).to_be_visible()
    phone.get_by_role("link", name="Sizes").tap()
    expect(phone.locator("#next-what")).to_have_text("Measure 12 mm pine")
    phone.locator("#length").fill("12.1")
    phone.get_by_role("button", name="Keep it", exact=True).tap()
    expect(phone.locator("#next")).to_contain_text("So far: 12.1 mm")

    laptop.reload()
    expect(row).to_contain_text("yes")
    expect(row).not_to_contain_text("not yet")


def test_a_lost_card_is_voided_and_the_new_one_scanned(
    instructor_laptop, phone, shop_class, expected_errors, axe
):
    expected_errors.append("404")
    old = enrol(shop_class, name="Ann Other", username="km7px3qe").student
    laptop = instructor_laptop
    laptop.goto(f"/classes/{shop_class.pk}/roster/")
    laptop.get_by_role("link", name="Ann Other").click()
    axe(laptop)
    laptop.get_by_role("button", name="Make a new card").click()
    expect(laptop.get_by_role("status")).to_contain_text("no longer work")
    axe(laptop)
    code = laptop.locator(".card-code").inner_text()

    phone.goto("/join/km7px3qe/")
    expect(phone.get_by_role("alert")).to_contain_text("This code is not in use.")
    axe(phone)
    phone.goto(f"/join/{code}/")
    expect(phone.get_by_role("heading", name=f"Hello, {old.name}")).to_be_visible()


def test_students_come_from_a_file_and_what_is_doubtful_is_shown(
    instructor_laptop, shop_class, expected_errors, axe
):
    expected_errors.append("422")
    laptop = instructor_laptop
    laptop.goto(f"/classes/{shop_class.pk}/roster/")
    rows = "Zoë Brandt,7\nBo Lim,8\n"
    sent = {"name": "r.csv", "mimeType": "text/csv", "buffer": rows.encode()}
    laptop.get_by_label("Or a CSV file").set_input_files(sent)
    laptop.get_by_role("button", name="Put them on the roster").click()
    expect(laptop.get_by_role("alert")).to_contain_text("Nobody was added yet.")
    expect(laptop.get_by_label("Names, one a line")).to_have_value("Zoë Brandt\nBo Lim")
    axe(laptop)
    laptop.get_by_role("button", name="Put them on the roster").click()
    expect(laptop.get_by_role("heading", name="2 students")).to_be_visible()


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
    phone.get_by_label("Sign-in name or card code").fill(student.username.upper())
    phone.get_by_label("Password or PIN").fill("wrong")
    phone.get_by_role("button", name="Sign in").tap()
    expect(phone.get_by_role("alert")).to_contain_text("don't fit together")
    phone.get_by_label("Password or PIN").fill(PASSWORD)
    phone.get_by_role("button", name="Sign in").tap()
    expect(phone.get_by_role("button", name="Sign out")).to_be_visible()
    phone.get_by_role("button", name="Sign out").tap()
    expect(phone.get_by_role("heading", name="Sign in")).to_be_visible()


def test_two_clicks_log_one_near_miss(laptop, sign_in, shop_class, instructor):
    page = sign_in(laptop, instructor)
    page.goto(reverse("near-miss-list", args=[shop_class.pk]))
    page.get_by_label("When").fill("2026-03-02T18:30")
    page.get_by_label("What happened").fill("A board kicked back; nobody was hurt.")
    page.get_by_role("button", name="Log it").dblclick()
    expect(page.get_by_text("A board kicked back").first).to_be_visible()

    assert NearMiss.objects.count() == 1
