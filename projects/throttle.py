"""What the sign-in throttle counts by."""

from __future__ import annotations

import ipaddress
from typing import Any

from django.http import HttpRequest


def address(request: HttpRequest) -> str | None:
    """Return what tries are counted by: an address, or the network of an IPv6 one.

    A device picks any of the 2 ** 64 of its network (RFC 4291, section 2.5.1). None
    where the request came through a socket file.
    """
    given = request.META.get("REMOTE_ADDR", "")
    try:
        found = ipaddress.ip_address(given)
    except ValueError:
        return None
    if found.version == 4:
        return str(found)
    # without the name of the network card that a link-local address can carry
    plain = ipaddress.IPv6Address(int(found))
    return str(ipaddress.ip_network(f"{plain}/64", strict=False).network_address)


def username(request: HttpRequest, credentials: dict[str, Any] | None = None) -> str:
    """Return the name somebody tries to sign in with, as it is looked up.

    Names are kept in lower case, so `Ida` and `ida ` are one name to guess at.
    """
    given = (credentials or {}).get("username") or request.POST.get("username", "")
    return str(given).strip().lower()
