"""What wrong tries are counted by."""

import pytest
from django.test import RequestFactory

from projects.throttle import address


@pytest.mark.parametrize(
    ("came_from", "counted"),
    [
        ("192.0.2.7", "192.0.2.7"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::"),
        ("2001:db8:1:2:ffff::1", "2001:db8:1:2::"),
        ("fe80::1%eth0", "fe80::"),
        ("", None),
    ],
)
def test_an_address_or_the_network_of_one(came_from, counted):
    request = RequestFactory().get("/", REMOTE_ADDR=came_from)

    assert address(request) == counted


@pytest.mark.django_db
def test_another_address_of_the_network_is_locked_too(client, student):
    form = {"username": student.username, "password": "wrong"}
    for n in range(9):
        answered = client.post("/sign-in/", form, REMOTE_ADDR=f"2001:db8::{n + 1:x}")

    assert answered.status_code == 429
    other = client.post("/sign-in/", form, REMOTE_ADDR="2001:db8:0:1::1")
    assert other.status_code == 200
