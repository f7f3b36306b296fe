"""Addresses that people type, and those this computer has."""

import pytest

from projects import addresses
from projects.addresses import host_of, is_loopback, read_site


class TestReadSite:
    @pytest.mark.parametrize(
        ("typed", "read"),
        [
            ("192.168.1.7:8000", "http://192.168.1.7:8000"),
            (" 192.168.1.7 ", "http://192.168.1.7"),
            ("http://Shop.Example:8000/", "http://shop.example:8000"),
            ("https://shop.example", "https://shop.example"),
            ("bench-2.local:80", "http://bench-2.local:80"),
            ("[fd00::7]:8000", "http://[fd00::7]:8000"),
            ("localhost:8000", "http://localhost:8000"),
        ],
    )
    def test_sites_are_read(self, typed, read):
        assert read_site(typed, scheme="http") == read

    def test_the_scheme_of_the_page_is_taken_where_none_was_typed(self):
        assert read_site("shop.example", scheme="https") == "https://shop.example"

    @pytest.mark.parametrize(
        "typed",
        [
            "",
            " ",
            "http://",
            "javascript:alert(1)",
            "javascript://shop.example",
            "ftp://shop.example",
            "file:///etc/passwd",
            "//shop.example",
            "http://a@shop.example",
            "shop.example/elsewhere",
            "shop.example?x=1",
            "shop.example#x",
            "two words",
            "shop.example\nx",
            "shop\\example",
            "-shop.example",
            "shop..example",
            "192.168.1",
            "300.1.1.1",
            "1.2.3.4:99999",
            "1.2.3.4:x",
            "[::1",
            "shöp.example",
            "\u0661.2.3.4",
            "<b>",
            "x" * 41,
        ],
    )
    def test_nonsense_is_refused(self, typed):
        with pytest.raises(ValueError, match=r"."):
            read_site(typed, scheme="http")


class TestHosts:
    @pytest.mark.parametrize(
        ("site", "host"),
        [("http://a.example:80", "a.example"), ("http://[fd00::7]:8000", "[fd00::7]")],
    )
    def test_the_host_of_a_site(self, site, host):
        assert host_of(site) == host

    @pytest.mark.parametrize("host", ["localhost", "127.0.0.1", "127.9.9.9", "[::1]"])
    def test_loopback(self, host):
        assert is_loopback(host)

    @pytest.mark.parametrize("host", ["192.168.1.7", "shop.example", "[fd00::7]"])
    def test_not_loopback(self, host):
        assert not is_loopback(host)

    def test_other_devices_are_not_told_of_loopback(self, monkeypatch):
        found = ["127.0.1.1", "192.168.1.7"]
        monkeypatch.setattr(addresses, "own_addresses", lambda: found)

        assert addresses.for_other_devices() == ["192.168.1.7"]
