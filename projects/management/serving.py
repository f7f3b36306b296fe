"""Serving the app to the people in the room; `demo` and `serve` share it."""

import hashlib
import ipaddress
import os
import signal
import socket
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command
from django.core.management.base import CommandParser
from django.core.wsgi import get_wsgi_application
from waitress.server import create_server

from projects.addresses import own_addresses
from projects.plan_zip import MAX_ZIP_BYTES


@dataclass(frozen=True, kw_only=True)
class Address:
    """Where to listen."""

    host: str
    port: int

    @property
    def is_open(self) -> bool:
        """Say whether other devices can reach it."""
        if self.host == "localhost":
            return False
        try:
            return not ipaddress.ip_address(self.host).is_loopback
        except ValueError:  # a name
            return True

    def __str__(self) -> str:
        host = f"[{self.host}]" if ":" in self.host else self.host
        return f"{host}:{self.port}"


def read_address(text: str) -> Address:
    """Read HOST:PORT."""
    host, colon, port = text.rpartition(":")
    if not (colon and host and port.isascii() and port.isdigit()):
        raise ValueError(f"expected HOST:PORT such as 127.0.0.1:8001, got {text!r}")
    if not 0 < int(port) < 65536:
        raise ValueError(f"a port is a number from 1 to 65535, got {port}")
    return Address(host=host.strip("[]"), port=int(port))


def add_bind_option(parser: CommandParser) -> None:
    """Add --bind to a command."""
    parser.add_argument(
        "--bind",
        metavar="HOST:PORT",
        default="127.0.0.1:8000",
        help="where to listen (%(default)s); 0.0.0.0:8000 lets phones in",
    )


def bind(text: str) -> tuple[Address, socket.socket]:
    """Take the port before any work is done, or stop with one line."""
    try:
        address = read_address(text)
    except ValueError as error:
        raise SystemExit(f"--bind: {error}") from None
    family = socket.AF_INET6 if ":" in address.host else socket.AF_INET
    taken = socket.socket(family, socket.SOCK_STREAM)
    if os.name == "posix":  # elsewhere it would let two servers share a port
        taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        taken.bind((address.host, address.port))
        taken.listen()
    except OSError as error:
        taken.close()
        other = Address(host=address.host, port=min(address.port + 1, 65535))
        raise SystemExit(
            f"Cannot listen on {address}: {error.strerror}. "
            f"Stop what uses it, or choose another: --bind {other}"
        ) from None
    return address, taken


def admit(address: Address) -> list[str]:
    """Let requests to an open address in; list what to type for it."""
    if not address.is_open:
        return [address.host]
    everywhere = ipaddress.IPv4Address(0), ipaddress.IPv6Address(0)
    hosts = [address.host]
    if address.host in map(str, everywhere):
        hosts = [host for host in own_addresses() if not host.startswith("127.")]
    settings.ALLOWED_HOSTS = [*settings.ALLOWED_HOSTS, *hosts]
    return hosts


def collect_static_files() -> None:
    """Collect the static files, unless none has changed since the last time."""
    stamp = Path(settings.DATA_DIR) / "static.stamp"
    now = static_digest()
    if stamp.exists() and stamp.read_text("ascii") == now:
        return
    call_command("collectstatic", interactive=False, clear=True, verbosity=0)
    stamp.write_text(now, "ascii")


def static_digest() -> str:
    """Hash the name, size and time of every static file there is."""
    digest = hashlib.sha256()
    for path in sorted(static_paths()):
        status = path.stat()
        digest.update(f"{path} {status.st_size} {status.st_mtime_ns}\n".encode())
    return digest.hexdigest()


def static_paths() -> Iterable[Path]:
    """List every static file of the project and its apps."""
    for finder in get_finders():
        for name, storage in finder.list(None):
            yield Path(storage.path(name))


def serve(taken: socket.socket) -> None:
    """Serve until Ctrl-C, or until the system ends it: both leave no files behind."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    options: dict[str, Any] = {
        "threads": 8,
        "ident": None,
        # a little over the largest zip of a plan; waitress would take a gigabyte
        "max_request_body_size": MAX_ZIP_BYTES + 1_000_000,
        # somebody who opens many connections and says nothing can't shut others out
        "connection_limit": 1000,
        "channel_timeout": 20,
        "asyncore_use_poll": True,
    }
    if settings.HTTPS:  # the proxy knows who asks, and that it was by https
        options["trusted_proxy"] = "127.0.0.1"
        options["trusted_proxy_headers"] = {"x-forwarded-for", "x-forwarded-proto"}
    create_server(get_wsgi_application(), sockets=[taken], **options).run()
