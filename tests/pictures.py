"""Make the pictures of README.md anew, from the demo class.

    .venv/bin/python -m tests.pictures http://127.0.0.1:8000

with `python3 manage.py demo` running there. Writes into `.readme/`.
"""

import sys
from pathlib import Path
from typing import Any

import pypdfium2
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser import LAPTOP, PHONE, launch

FOLDER = Path(__file__).resolve().parent.parent / ".readme"


def new_page(chromium: Browser, device: dict[str, Any]) -> Page:
    """Open a page of its own on a device."""
    return chromium.new_context(**device).new_page()


def sign_in(page: Page, address: str, username: str, password: str) -> None:
    """Sign in as one of the demo's people (see projects/demo/people.py)."""
    page.goto(f"{address}/sign-in/")
    page.fill("#id_username", username)
    page.fill("#id_password", password)
    page.click("main button")


def take(address: str) -> None:
    """Take every picture."""
    FOLDER.mkdir(exist_ok=True)
    with sync_playwright() as playwright:
        chromium = launch(playwright)
        take_reading(new_page(chromium, PHONE), address)
        take_step(new_page(chromium, PHONE), address)
        take_class(new_page(chromium, LAPTOP), address)
        chromium.close()


def take_reading(phone: Page, address: str) -> None:
    """Take the keypad and the sum behind a size, on the phone of who has begun."""
    sign_in(phone, address, "adaeze", "oakpegmark")
    phone.click("text=Sizes")
    phone.click("[data-mode-key=decimal]")
    for digit in "742":
        phone.click(f"[data-digit='{digit}']")
    phone.wait_for_selector("#length-read .size")
    phone.screenshot(path=FOLDER / "reading.png")
    phone.goto(phone.url + "sizes/shelf/length/")
    phone.evaluate("document.querySelector('#sizes-h').scrollIntoView()")
    phone.screenshot(path=FOLDER / "sum.png")


def take_step(phone: Page, address: str) -> None:
    """Take a step with its numbers, on the phone of who cuts the dadoes next."""
    sign_in(phone, address, "yuki", "teakplaneoil")
    phone.click("text=Read it at the bench")
    phone.wait_for_selector(".setting-what")
    phone.evaluate("document.querySelector('.setting-what').scrollIntoView()")
    phone.screenshot(path=FOLDER / "step.png")


def take_class(laptop: Page, address: str) -> None:
    """Take the overview, signing off and a cut sheet, on the instructor's laptop."""
    sign_in(laptop, address, "hanne", "pinesawglue")
    laptop.click("main table a")
    laptop.wait_for_selector("#overview")
    laptop.screenshot(path=FOLDER / "class.png")
    overview = laptop.url
    laptop.click("tr:has-text('Priya Naravel') >> text=Sign off")
    laptop.wait_for_selector("form.sign-off")
    laptop.screenshot(path=FOLDER / "sign-off.png")
    laptop.goto(overview)
    laptop.click("text=Olena Marchuvka")
    laptop.click("text=Sizes")
    laptop.wait_for_selector("#sizes-h")
    sheet = laptop.request.get(laptop.url + "cut-sheet.pdf?paper=letter")
    document = pypdfium2.PdfDocument(sheet.body())
    document[0].render(scale=1.2).to_pil().save(FOLDER / "sheet.png")
    document.close()


if __name__ == "__main__":
    take(sys.argv[1].rstrip("/"))
