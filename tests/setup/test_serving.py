"""Serving: addresses, a port that is taken, --fresh, and a demo that is real."""

import io
import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest
from django.core.management import call_command

from projects.management import serving
from projects.management.commands import demo

ROOT = Path(__file__).parents[2]


class TestAddress:
    @pytest.mark.parametrize(
        "text", ["8000", ":8000", "127.0.0.1", "a:b", "a:0", "a:65536", "a:²"]
    )
    def test_bad_ones_are_refused(self, text):
        with pytest.raises(ValueError, match=r"expected HOST:PORT|a port is"):
            serving.read_address(text)

    @pytest.mark.parametrize("text", ["127.0.0.1:80", "[::1]:8000", "localhost:65535"])
    def test_it_reads_what_it_writes(self, text):
        assert str(serving.read_address(text)) == text

    @pytest.mark.parametrize(
        ("text", "is_open"),
        [
            ("127.0.0.1:1", False),
            ("127.0.0.9:1", False),
            ("[::1]:1", False),
            ("localhost:1", False),
            ("0.0.0.0:1", True),
            ("192.168.1.7:1", True),
            ("bench.local:1", True),
        ],
    )
    def test_it_knows_who_can_reach_it(self, text, is_open):
        assert serving.read_address(text).is_open is is_open


class TestBind:
    def test_a_taken_port_is_said_in_one_line_with_a_way_out(self):
        with socket.create_server(("127.0.0.1", 0)) as other:
            port = other.getsockname()[1]
            with pytest.raises(SystemExit) as stopped:
                serving.bind(f"127.0.0.1:{port}")

        assert "\n" not in str(stopped.value)
        assert f"Cannot listen on 127.0.0.1:{port}" in str(stopped.value)
        assert "--bind 127.0.0.1:" in str(stopped.value)

    def test_a_bad_address_is_said_in_one_line(self):
        with pytest.raises(SystemExit, match="--bind: expected HOST:PORT"):
            serving.bind("everywhere")


class TestAdmit:
    def test_a_closed_address_admits_nobody_new(self, settings):
        before = list(settings.ALLOWED_HOSTS)

        assert serving.admit(serving.read_address("127.0.0.1:8000")) == ["127.0.0.1"]
        assert before == settings.ALLOWED_HOSTS

    def test_an_open_one_admits_the_computers_own(self, settings, monkeypatch):
        monkeypatch.setattr(
            serving, "own_addresses", lambda: ["127.0.1.1", "192.168.1.7"]
        )

        assert serving.admit(serving.read_address("0.0.0.0:80")) == ["192.168.1.7"]
        assert "192.168.1.7" in settings.ALLOWED_HOSTS
        assert "*" not in settings.ALLOWED_HOSTS


class Terminal(io.StringIO):
    """Somebody who types."""

    def isatty(self):
        return True


class TestFresh:
    @pytest.fixture
    def database(self, settings, monkeypatch, tmp_path):
        name = tmp_path / "demo.sqlite3"
        monkeypatch.setitem(settings.DATABASES["default"], "NAME", str(name))
        monkeypatch.setattr(demo, "SIGN_INS", tmp_path / "sign-ins.json")
        monkeypatch.setattr(demo, "connection", io.BytesIO())  # only closed
        for ending in ("", "-wal", "-shm"):
            Path(f"{name}{ending}").touch()
        demo.SIGN_INS.touch()
        (tmp_path / "db.sqlite3").touch()
        return name

    def left(self, database):
        return sorted(path.name for path in database.parent.iterdir())

    def test_without_a_terminal_it_refuses(self, database, monkeypatch):
        monkeypatch.setattr(sys, "stdin", io.StringIO("yes\n"))

        with pytest.raises(SystemExit, match="add --yes"):
            demo.start_over(sure=False)
        assert database.exists()

    @pytest.mark.parametrize("answer", ["", "no", "y", "yes please"])
    def test_any_other_answer_deletes_nothing(self, database, monkeypatch, answer):
        monkeypatch.setattr(sys, "stdin", Terminal(f"{answer}\n"))

        with pytest.raises(SystemExit, match="Nothing was deleted"):
            demo.start_over(sure=False)
        assert database.exists()

    def test_yes_deletes_the_demo_and_nothing_else(self, database, monkeypatch):
        monkeypatch.setattr(sys, "stdin", Terminal("yes\n"))
        demo.start_over(sure=False)

        assert self.left(database) == ["db.sqlite3"]

    def test_dash_dash_yes_does_not_ask(self, database):
        demo.start_over(sure=True)

        assert self.left(database) == ["db.sqlite3"]


class TestDemo:
    def test_it_refuses_the_real_database(self):
        with pytest.raises(SystemExit, match=r"python3 manage\.py demo"):
            call_command("demo")

    def test_it_starts_serves_stops_and_keeps_its_people(self, tmp_path):
        with socket.create_server(("127.0.0.1", 0)) as free:
            port = free.getsockname()[1]
        first = visit_demo(tmp_path, port)
        second = visit_demo(tmp_path, port)

        assert re.findall("password: .+", first)
        assert second == first


def visit_demo(data_dir: Path, port: int) -> str:
    """Start the demo, fetch a page, press Ctrl-C; return what it said."""
    settings = {"SHOPCLASS_ENV": "ready", "DATA_DIR": str(data_dir)}
    process = subprocess.Popen(
        [sys.executable, "manage.py", "demo", "--bind", f"127.0.0.1:{port}"],
        cwd=ROOT,
        env={**os.environ, **settings},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    with process:
        try:
            # The port is held from the start, so the answer waits until it can come.
            said = read_until(process, "Stop with Ctrl-C")
            with urllib.request.urlopen(f"http://127.0.0.1:{port}/") as page:
                assert page.status == 200
        finally:
            process.send_signal(signal.SIGINT)
            rest, errors = process.communicate(timeout=30)
    assert process.returncode == 0, errors
    assert (rest, errors) == ("", "")
    return said


def read_until(process: "subprocess.Popen[str]", sign: str) -> str:
    """Read what a process says up to the line with a sign."""
    assert process.stdout is not None
    said = ""
    for line in process.stdout:
        said += line
        if sign in line:
            break
    return said
