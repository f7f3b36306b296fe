"""Database triggers that refuse changes to what was recorded.

SQLite rebuilds a table to alter it, which drops its triggers: a migration that alters
such a table has to end with `append_only(table)` again. A test holds it to that.
"""

from __future__ import annotations

from typing import Any

from django.db.migrations import RunPython


def append_only(*tables: str) -> RunPython:
    """Return the migration step that makes every UPDATE of these tables fail."""

    def make(_apps: Any, schema_editor: Any) -> None:
        for table in tables:
            _drop(schema_editor, table)
            _make(schema_editor, table)

    def drop(_apps: Any, schema_editor: Any) -> None:
        for table in tables:
            _drop(schema_editor, table)

    return RunPython(make, drop)


def _make(schema_editor: Any, table: str) -> None:
    if _is_postgresql(schema_editor):
        schema_editor.execute(
            "CREATE OR REPLACE FUNCTION projects_append_only() RETURNS trigger AS "
            "$$ BEGIN RAISE EXCEPTION 'append-only: rows are never changed'; END $$ "
            "LANGUAGE plpgsql"
        )
        body = "FOR EACH ROW EXECUTE FUNCTION projects_append_only()"
    else:
        body = "BEGIN SELECT RAISE(ABORT, 'append-only: rows are never changed'); END"
    schema_editor.execute(
        f"CREATE TRIGGER {table}_append_only BEFORE UPDATE ON {table} {body}"
    )


def _drop(schema_editor: Any, table: str) -> None:
    on = f" ON {table}" if _is_postgresql(schema_editor) else ""
    schema_editor.execute(f"DROP TRIGGER IF EXISTS {table}_append_only{on}")


def _is_postgresql(schema_editor: Any) -> bool:
    return bool(schema_editor.connection.vendor == "postgresql")
