"""Slowing down whoever guesses codes."""

import pytest
from django.core.cache import cache
from django.test import RequestFactory

from projects import throttle_codes


@pytest.fixture(autouse=True)
def _fresh():
    cache.clear()
    yield
    cache.clear()


def from_address(address):
    return RequestFactory().get("/join/", REMOTE_ADDR=address)


def guess_until_stopped(request):
    for tries in range(throttle_codes.MOST_WRONG + 1):
        if not throttle_codes.may_try(request):
            return tries
        throttle_codes.count_wrong(request)
    return None


def test_a_class_may_mistype_and_a_guesser_is_stopped():
    assert guess_until_stopped(from_address("192.0.2.1")) == 60


def test_another_address_is_another_matter():
    guess_until_stopped(from_address("192.0.2.1"))

    assert throttle_codes.may_try(from_address("192.0.2.2"))


def test_a_network_of_the_newer_kind_counts_as_one():
    guess_until_stopped(from_address("2001:db8::1"))

    assert not throttle_codes.may_try(from_address("2001:db8::2"))
    assert not throttle_codes.may_try(from_address("2001:db8::2%eth0"))
    assert throttle_codes.may_try(from_address("2001:db8:0:1::1"))


def test_a_small_number_is_an_address_of_the_newer_kind_too():
    assert guess_until_stopped(from_address("::1")) == 60


def test_a_socket_without_address_is_counted():
    assert guess_until_stopped(from_address("")) == 60


def test_what_ran_out_in_between_starts_anew(monkeypatch):
    request = from_address("192.0.2.1")
    throttle_codes.count_wrong(request)

    def gone(*_args):
        cache.clear()
        raise ValueError

    monkeypatch.setattr(cache, "incr", gone)
    throttle_codes.count_wrong(request)

    assert throttle_codes.may_try(request)
