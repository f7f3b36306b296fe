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
        phone = new_page(chromium, PHONE)
        sign_in(phone, address, "adaeze", "oakpegmark")
        phone.click("[data-mode-key=decimal]")
        for digit in "742":
            phone.click(f"[data-digit='{digit}']")
        phone.wait_for_selector("#length-read .size")
        phone.screenshot(path=FOLDER / "reading.png")
        phone.goto(phone.url + "sizes/shelf/length/")
        phone.evaluate("document.querySelector('#sizes-h').scrollIntoView()")
        phone.screenshot(path=FOLDER / "sum.png")
        laptop = new_page(chromium, LAPTOP)
        sign_in(laptop, address, "hanne", "pinesawglue")
        laptop.click("main table a")
        laptop.screenshot(path=FOLDER / "class.png")
        laptop.click("text=Olena Marchuvka >> nth=0")
        sheet = laptop.request.get(laptop.url + "cut-sheet.pdf?paper=letter")
        document = pypdfium2.PdfDocument(sheet.body())
        document[0].render(scale=1.2).to_pil().save(FOLDER / "sheet.png")
        document.close()
        chromium.close()


if __name__ == "__main__":
    take(sys.argv[1].rstrip("/"))
