"""A draft's page: from a change in a form to the redrawn picture, for 40 parts."""

from functools import cache
from itertools import count
from unittest.mock import patch

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from projects import drafting
from projects.models import Draft, User
from projects.present import draft_page
from tests.bench.cabinet import cabinet_bytes
from tests.bench.registry import bench, ratio

BACKEND = "django.contrib.auth.backends.ModelBackend"
HTMX = {"HX-Request": "true"}
widths = count(84)


@cache
def cabinet_draft() -> tuple[Client, Draft]:
    """Return an instructor's browser and their draft of the wide cabinet."""
    by = User.objects.create_user(
        "drafter", "Ottoline Varga", "jarrahdowel", is_instructor=True
    )
    draft = drafting.start(by, title="Wide cabinet", units="in")
    drafting.bring_in(draft, by, data=cabinet_bytes())
    client = Client()
    client.force_login(by, backend=BACKEND)
    return client, draft


def change() -> bytes:
    """Send another overall width from the form; return the redrawn page."""
    client, draft = cabinet_draft()
    draft.refresh_from_db()
    data = {
        "op": "save",
        "entry": "distances:width",
        "based_on": draft.current,
        "name": "Width",
        "from_part": "upright0",
        "from_face": "left",
        "to_part": "upright7",
        "to_face": "right",
        "value": str(next(widths)),
        "held": "1",
    }
    answered = client.post(reverse("draft", args=[draft.plan_id]), data, headers=HTMX)
    if answered.status_code != 200 or b"data-view" not in answered.content:
        raise RuntimeError(f"the change was answered with {answered.status_code}")
    return bytes(answered.content)


def page_without_drawing() -> bytes:
    """Fetch the same page as it is after a change, with no drawing on it."""
    client, draft = cabinet_draft()
    draft_page.look_at.cache_clear()  # the change was not looked at before either
    with patch.object(draft_page, "drawings_of", return_value=()):
        url = reverse("draft", args=[draft.plan_id])
        return bytes(client.get(url, headers=HTMX).content)


@bench(
    "plan.redraw.time",
    limit=3,
    db=True,
    how="a distance changed in the form of a 40-part plan, to the page with its "
    "drawing, over fetching that page with the drawing left out; in neither had the "
    "plan been looked at before, so both find every size and what is open",
)
def plan_redraw_time() -> float:
    """Compare a change with the page it makes, the drawing left out [-]."""
    change()
    return ratio(change, page_without_drawing)


@bench(
    "plan.redraw.queries",
    limit=12,
    db=True,
    how="queries from a change sent to the redrawn page of a 40-part plan, session, "
    "user and transaction included",
)
def plan_redraw_queries() -> float:
    """Count the queries of a change."""
    cabinet_draft()
    with CaptureQueriesContext(connection) as queries:
        change()
    return len(queries) - 1  # the draft is read once by the benchmark itself
