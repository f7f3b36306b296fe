"""The addresses that this computer has, and those that people type."""

from __future__ import annotations

import ipaddress
import re
import socket
from urllib.parse import urlsplit

LONGEST_HOST = 40
"""A longer one fits on no card, and makes a square too fine for a phone's camera."""

_LABEL = r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?"
_NAME = re.compile(rf"{_LABEL}(\.{_LABEL})*")


def own_addresses() -> list[str]:
    """List the addresses of this computer that other devices can type."""
    try:
        found = set(socket.gethostbyname_ex(socket.gethostname())[2])
    except OSError:  # its own name is not in any list; the probe will do
        found = set()
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        # Sends nothing: it only asks which of our addresses faces the network.
        # 192.0.2.1 belongs to nobody (RFC 5737).
        try:
            probe.connect(("192.0.2.1", 9))
            found.add(probe.getsockname()[0])
        except OSError:  # no network now; the names above will do
            return sorted(found)
    return sorted(found)


def for_other_devices() -> list[str]:
    """List the addresses of this computer that lead to it from another device."""
    return [host for host in own_addresses() if not is_loopback(host)]


def is_loopback(host: str) -> bool:
    """Tell whether an address without a port reaches nothing but this computer."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:  # a name
        return False


def read_site(text: str, *, scheme: str) -> str:
    """Return the site somebody typed, such as `http://192.168.1.7:8000`.

    `scheme` is taken where none was typed. Raises `ValueError` for what is no site of
    http or https, or names more than one.
    """
    plain = text.strip().lower()
    parts = urlsplit(plain if "://" in plain else f"{scheme}://{plain}")
    host = parts.hostname or ""
    if parts.scheme not in ("http", "https") or len(host) > LONGEST_HOST:
        raise ValueError(text)
    if "@" in parts.netloc or parts.path.strip("/") or parts.query or parts.fragment:
        raise ValueError(text)
    if not plain.isascii() or not plain.isprintable() or " " in plain:
        raise ValueError(text)
    port = parts.port  # raises where it is none
    # 192.168.1 and 300.1.1.1 are names to the pattern, and no addresses
    numbers = set(host) <= set("0123456789.:")
    if ":" in host or numbers:
        host = str(ipaddress.ip_address(host))
    elif not _NAME.fullmatch(host):
        raise ValueError(text)
    shown = f"[{host}]" if ":" in host else host
    return f"{parts.scheme}://{shown}" + (f":{port}" if port else "")


def host_of(site: str) -> str:
    """Return the host of a site, with the brackets of an IPv6 address."""
    host = urlsplit(site).hostname or ""
    return f"[{host}]" if ":" in host else host
