"""Let the database refuse changes to readings and revisions."""

from django.db import migrations

from projects.models.triggers import append_only


class Migration(migrations.Migration):
    """Append-only by the database."""

    dependencies = [("projects", "0001_initial")]
    operations = [append_only("projects_reading", "projects_revision")]
