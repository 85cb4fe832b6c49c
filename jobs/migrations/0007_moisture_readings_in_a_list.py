"""One reading with its method in words becomes the first of a list, each by a known method."""

from django.db import migrations


def method_of(said):
    """Return the method that words most likely name."""
    words = said.lower()
    if "humidity" in words or words.split()[:1] == ["rh"]:
        return "rh"
    return "mver" if "calcium" in words else "other"


def gather(apps, schema_editor):
    """Put the single reading of every site into its list; what can't be told stays in words."""
    sites = apps.get_model("jobs", "SiteFacts")
    for site in sites.objects.filter(moisture_reading__isnull=False):
        method = method_of(site.moisture_method)
        where = site.moisture_method if method == "other" else ""
        if site.moisture_limit is not None:
            where = f"{where} limit noted: {site.moisture_limit.normalize():f}".strip()
        value = f"{site.moisture_reading.normalize():f}"
        row = {"method": method, "value": value, "where": where[:60], "on": ""}
        site.readings = [row, *site.readings]
        site.save(update_fields=["readings"])


class Migration(migrations.Migration):

    dependencies = [("jobs", "0006_room_edges")]

    operations = [
        migrations.RunPython(gather, migrations.RunPython.noop),
        migrations.RemoveField(model_name="sitefacts", name="moisture_method"),
        migrations.RemoveField(model_name="sitefacts", name="moisture_reading"),
        migrations.RemoveField(model_name="sitefacts", name="moisture_limit"),
    ]
