"""The overview of a class: its queries, its time, and what an idle one costs."""

import re
import socket
from collections.abc import Callable
from functools import cache

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.test import Client, override_settings
from django.test.utils import CaptureQueriesContext
from django.urls import path, reverse
from django.utils import timezone

from projects.access import get_class_staffed
from projects.models import ShopClass
from projects.overview import next_meeting, roll_of, rows_of
from shopclass.urls import urlpatterns as pages
from tests.bench.bench_web import BACKEND, served
from tests.bench.registry import bench, ratio
from tests.full_class import full_class

SIZES = (5, 30, 300)
ROUNDS = 41


@cache
def class_of(students: int) -> ShopClass:
    """Make a class once a run."""
    return full_class(students)


def browser_of_staff(shop_class: ShopClass) -> Client:
    """Return a browser in which the instructor of a class is signed in."""
    client = Client()
    client.force_login(shop_class.shop.owner, backend=BACKEND)
    return client


def get(client: Client, url: str) -> Callable[[], bytes]:
    """Return what fetches a page, and fails where it doesn't come."""

    def fetch() -> bytes:
        answered = client.get(url)
        if answered.status_code != 200:
            raise RuntimeError(f"{url} was answered with {answered.status_code}")
        return answered.content

    return fetch


@bench(
    "overview.queries",
    limit=10,
    db=True,
    how="queries of the page, session and user included: the most at 5, 30 and 300 "
    "students, each at the first sight of its class and once more",
)
def overview_queries() -> float:
    """Count the queries of an overview."""
    counts = []
    for students in SIZES:
        shop_class = class_of(students)
        page = get(
            browser_of_staff(shop_class), reverse("class-detail", args=[shop_class.pk])
        )
        for _time in range(2):
            with CaptureQueriesContext(connection) as queries:
                page()
            counts.append(len(queries))
    return max(counts)


@login_required
def bare(request: HttpRequest, pk: int) -> HttpResponse:
    """Print the rows that the overview fetches, fetched in the same way."""
    shop_class = get_class_staffed(request, pk)
    roll = roll_of(shop_class, now=timezone.now())
    rows = rows_of(roll)
    lines = [str(shop_class), str(next_meeting(shop_class, now=roll.now))]
    lines += map(str, roll.students)
    lines += map(str, roll.machines)
    for found in (rows.plans, rows.readings, rows.done, rows.sign_offs, rows.seen):
        lines += [f"{key}: {value}" for key, value in found.items()]
    return HttpResponse("\n".join(lines), content_type="text/plain")


urlpatterns = [*pages, path("bare/<int:pk>/", bare)]


@bench(
    "overview.time",
    limit=2,
    db=True,
    how="the overview of 30 students, seen before, over a bare view behind the same "
    "gate that fetches the same rows in the same way and prints them as text; both "
    "whole, by Django's test client",
)
def overview_time() -> float:
    """Compare the overview with a bare view of its rows [-]."""
    shop_class = class_of(30)
    client = browser_of_staff(shop_class)
    with override_settings(ROOT_URLCONF=__name__):
        page = get(client, reverse("class-detail", args=[shop_class.pk]))
        text = get(client, f"/bare/{shop_class.pk}/")
        page()
        text()
        return ratio(page, text, rounds=ROUNDS)


@bench(
    "overview.idle.bytes",
    limit=1000,
    db=True,
    how="what an open overview of 30 students is answered when it asks and nothing "
    "changed: bytes read from the socket of the real server, head included",
)
def overview_idle_bytes() -> float:
    """Measure the answer to an idle overview [B]."""
    shop_class = class_of(30)
    client = browser_of_staff(shop_class)
    url = reverse("class-detail", args=[shop_class.pk])
    page = get(client, url)().decode()
    asks = re.search(r'id="overview"[^>]* hx-get="([^"]+)"', page)
    if asks is None:
        raise RuntimeError("the page doesn't ask for itself")
    session = client.cookies[settings.SESSION_COOKIE_NAME]
    with served() as port:
        answer = idle(
            port, url + asks[1].replace("&amp;", "&"), f"{session.key}={session.value}"
        )
    if not answer.startswith(b"HTTP/1.1 204"):
        raise RuntimeError(f"it was answered with {answer[:100]!r}")
    return len(answer)


def idle(port: int, path: str, cookie: str) -> bytes:
    """Return all that the server sends an open page that asks."""
    lines = (
        f"GET {path} HTTP/1.1",
        f"Host: 127.0.0.1:{port}",
        "Accept-Encoding: gzip",
        "HX-Request: true",
        f"Cookie: {cookie}",
        "Connection: close",
    )
    with socket.create_connection(("127.0.0.1", port)) as wire:
        wire.sendall(("\r\n".join(lines) + "\r\n\r\n").encode())
        return b"".join(iter(lambda: wire.recv(65536), b""))
