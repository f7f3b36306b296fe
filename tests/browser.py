"""Chromium for tests: devices, a page that reports every error, and axe."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib import resources
from typing import Any

from playwright.sync_api import Browser, Page, Playwright

from shopclass.setup import system

OPTIONS = [
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
PHONE = {
    "viewport": {"width": 390, "height": 844},
    "device_scale_factor": 2,
    "has_touch": True,
    "is_mobile": True,
}
LAPTOP = {"viewport": {"width": 1280, "height": 800}}
AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def launch(playwright: Playwright) -> Browser:
    """Start the system's Chromium, or Playwright's own where there is none."""
    options = list(OPTIONS)
    if system.is_root():  # Chromium's sandbox refuses root
        options.append("--no-sandbox")
    return playwright.chromium.launch(
        executable_path=system.find_browser(), args=options
    )


def watched_page(
    browser: Browser, url: str, device: dict[str, Any], expected: Sequence[str]
) -> Iterator[Page]:
    """Give a page; afterwards, fail for each error the browser met on it.

    A violation of the Content-Security-Policy is one of them. `expected` holds parts
    of the errors that are meant.
    """
    errors: list[str] = []
    context = browser.new_context(base_url=url, locale="en-US", **device)
    context.on(
        "console",
        lambda said: errors.append(said.text) if said.type == "error" else None,
    )
    context.on("weberror", lambda error: errors.append(str(error.error)))
    yield context.new_page()
    context.close()
    unexpected = [
        error for error in errors if not any(part in error for part in expected)
    ]
    assert not unexpected, "the browser met errors:\n" + "\n".join(unexpected)


@contextmanager
def settled(page: Page) -> Iterator[None]:
    """Wait, after what is done inside, until htmx has swapped the answer in.

    An answer that has come is not on the page yet: typed then, text goes into what
    is about to be replaced.
    """
    page.evaluate(
        "() => { window.swapped = new Promise(done => document.addEventListener("
        "'htmx:afterSettle', () => done(true), {once: true})) }"
    )
    yield
    assert page.evaluate("() => window.swapped")


def check_accessibility(page: Page) -> None:
    """Fail for each violation of WCAG 2.2 AA that axe finds on the page as it is."""
    if not page.evaluate("() => 'axe' in window"):
        package = resources.files("axe_playwright_python")
        source = package.joinpath("axe.min.js").read_text("utf-8")
        # Evaluated from outside the page, so its Content-Security-Policy stays whole.
        page.evaluate(f"() => {{ {source} }}")
    # no rule of these looks into style sheets, so none is fetched again
    found = page.evaluate(
        "tags => axe.run(document, {runOnly: {type: 'tag', values: tags}, "
        "resultTypes: ['violations'], preload: false})",
        AXE_TAGS,
    )
    violations = found["violations"]
    assert not violations, f"{page.url}\n{readable(violations)}"


def readable(violations: Sequence[dict[str, Any]]) -> str:
    """Write axe's findings for a person."""
    lines = []
    for violation in violations:
        lines.append(f"{violation['id']} ({violation['impact']}): {violation['help']}")
        for node in violation["nodes"]:
            lines.append(f"    {node['html']}")
            lines.extend(
                f"        {line}" for line in node["failureSummary"].split("\n")
            )
    return "\n".join(lines)
