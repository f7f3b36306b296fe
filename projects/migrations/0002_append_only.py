"""Let the database refuse changes to what was recorded.

SQLite rebuilds a table to alter it, which drops its triggers: a later migration that
alters `reading` or `revision` has to run `make_triggers` again. A test holds it to
that.
"""

from typing import Any

from django.db import migrations

TABLES = ("projects_reading", "projects_revision")


def make_triggers(apps: Any, schema_editor: Any) -> None:
    """Make one trigger a table that aborts every UPDATE."""
    vendor = schema_editor.connection.vendor
    if vendor == "postgresql":
        schema_editor.execute(
            "CREATE OR REPLACE FUNCTION projects_append_only() RETURNS trigger AS "
            "$$ BEGIN RAISE EXCEPTION 'append-only: rows are never changed'; END $$ "
            "LANGUAGE plpgsql"
        )
    for table in TABLES:
        drop_trigger(schema_editor, table)
        if vendor == "postgresql":
            body = "FOR EACH ROW EXECUTE FUNCTION projects_append_only()"
        else:
            body = (
                "BEGIN SELECT RAISE(ABORT, 'append-only: rows are never changed'); END"
            )
        schema_editor.execute(
            f"CREATE TRIGGER {table}_append_only BEFORE UPDATE ON {table} {body}"
        )


def drop_triggers(apps: Any, schema_editor: Any) -> None:
    """Take the triggers away."""
    for table in TABLES:
        drop_trigger(schema_editor, table)


def drop_trigger(schema_editor: Any, table: str) -> None:
    """Drop a table's trigger where there is one."""
    on = f" ON {table}" if schema_editor.connection.vendor == "postgresql" else ""
    schema_editor.execute(f"DROP TRIGGER IF EXISTS {table}_append_only{on}")


class Migration(migrations.Migration):
    """Append-only by the database."""

    dependencies = [("projects", "0001_initial")]
    operations = [migrations.RunPython(make_triggers, drop_triggers)]
