from django.db import migrations

NAMES = {"planer": "Planer", "jointer": "Jointer", "table_saw": "Table saw"}
SIDES = ("shortest", "narrowest", "thinnest")


def make_machines(apps, schema_editor):
    """A shop that said what its machines take lists them, unless it has none of a kind."""
    Machine = apps.get_model("projects", "Machine")
    for shop in apps.get_model("projects", "Shop").objects.all():
        typed = shop.limits
        old = {
            f"{kind}_{end}"
            for kind in NAMES
            for end in ("missing", *(f"{side}_mm" for side in SIDES))
        }
        if not any(typed.get(key) for key in old):
            continue
        for kind, name in NAMES.items():
            if typed.get(f"{kind}_missing"):
                continue
            limits = {
                side: typed[f"{kind}_{side}_mm"]
                for side in SIDES
                if typed.get(f"{kind}_{side}_mm")
            }
            Machine.objects.create(shop=shop, kind=kind, name=name, limits=limits)
        shop.limits = {key: said for key, said in typed.items() if key not in old}
        shop.save(update_fields=["limits"])


class Migration(migrations.Migration):
    """What the smallest part is stands at each machine now, no more at the shop."""

    dependencies = [
        ("projects", "0007_every_class_has_a_shop"),
    ]

    operations = [
        migrations.RunPython(make_machines, migrations.RunPython.noop),
    ]
