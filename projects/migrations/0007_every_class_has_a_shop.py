import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    """Apart from 0006: PostgreSQL alters no table that the same transaction filled."""

    dependencies = [
        ('projects', '0006_running_the_class'),
    ]

    operations = [
        migrations.AlterField(
            model_name='shopclass',
            name='shop',
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='classes', to='projects.shop'),
        ),
    ]
