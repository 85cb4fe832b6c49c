"""Every job with a work split learns which tasks its homeowner does."""

from django.apps.registry import Apps
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

# The kinds of task there were, in working order.
ALL_TASKS = (
    "pick_up load setup carry acclimatise furniture fixtures_off base_off doors_off tear_out "
    "dispose dump_run prep level paint undercut underlay lay stairs transitions base shoe "
    "doors_on fixtures_on clean travel"
).split()


def tell_the_jobs(apps: Apps, schema_editor: BaseDatabaseSchemaEditor) -> None:
    """Write the tasks of each work split to its job; who loads the old floor drives it away."""
    jobs = apps.get_model("jobs", "Job").objects.using(schema_editor.connection.alias)
    splits = apps.get_model("estimates", "WorkSplit").objects.using(schema_editor.connection.alias)
    for split in splits.iterator():
        left = set(ALL_TASKS if split.everything else split.left_out)
        left |= {"dump_run"} if "dispose" in left else set()
        codes = [code for code in ALL_TASKS if code in left]
        jobs.filter(pk=split.job_id).update(left_to_homeowner=codes)


class Migration(migrations.Migration):
    dependencies = [
        ("estimates", "0009_payers_unit_prices"),
        ("jobs", "0018_work_left_to_homeowner"),
    ]

    operations = [migrations.RunPython(tell_the_jobs, migrations.RunPython.noop)]
