"""manage.py: Python versions, and settings that stop the start."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from shopclass import settings

ROOT = Path(__file__).parents[2]


def manage(*arguments: str, **environ: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "manage.py", *arguments],
        cwd=ROOT,
        env={**os.environ, "SHOPCLASS_ENV": "ready", **environ},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )


class TestPythonVersion:
    def test_an_old_python_can_read_the_file(self):
        source = (ROOT / "manage.py").read_text("utf-8")

        assert ast.parse(source, feature_version=(3, 4))

    def test_an_old_python_is_told_so(self):
        code = (
            "import runpy, sys; sys.version_info = (3, 9, 2);"
            "runpy.run_path('manage.py', run_name='__main__')"
        )
        done = subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=False,
        )

        assert done.returncode == 1
        assert (
            done.stderr == "This needs Python 3.11 or newer, and this is Python 3.9.\n"
        )


class TestBadSettings:
    @pytest.mark.parametrize(
        ("name", "value"),
        [
            ("DEBUG", "perhaps"),
            ("HTTPS", "7"),
            ("TIME_ZONE", "Mars/Base"),
            ("DATABASE_URL", "ftp://somewhere/x"),
            ("DATA_DIR", "/dev/null/data"),
        ],
    )
    def test_one_line_names_it_and_nothing_starts(self, name, value):
        done = manage("check", **{name: value})

        assert done.returncode == 1
        assert done.stdout == ""
        assert done.stderr.startswith(name)
        assert done.stderr.count("\n") == 1


class TestSecretKey:
    def test_it_is_made_once_and_for_the_owner_only(self, tmp_path):
        path = tmp_path / "secret_key"
        key = settings.read_secret_key(path)

        assert settings.read_secret_key(path) == key
        assert path.stat().st_mode & 0o777 == 0o600
        assert list(tmp_path.iterdir()) == [path]

    def test_a_blank_file_is_refused(self, tmp_path):
        path = tmp_path / "secret_key"
        path.touch()

        with pytest.raises(ImproperlyConfigured, match="no secret key"):
            settings.read_secret_key(path)


class TestDatabase:
    def test_the_demo_never_uses_the_real_one(self, tmp_path, monkeypatch):
        monkeypatch.setenv("DATABASE_URL", "postgres://class@db/real")
        database = settings.read_database(tmp_path, demo=True)

        assert database["NAME"] == str(tmp_path / "demo.sqlite3")

    def test_the_real_one_is_a_file_by_default(self, tmp_path, monkeypatch):
        monkeypatch.delenv("DATABASE_URL", raising=False)
        database = settings.read_database(tmp_path, demo=False)

        assert database["NAME"] == str(tmp_path / "db.sqlite3")
        assert database["OPTIONS"]["transaction_mode"] == "IMMEDIATE"

    def test_postgresql_comes_by_url(self, tmp_path, monkeypatch):
        monkeypatch.setenv("DATABASE_URL", "postgres://class@db/real")
        database = settings.read_database(tmp_path, demo=False)

        assert database["ENGINE"] == "django.db.backends.postgresql"
        assert (database["HOST"], database["NAME"]) == ("db", "real")
