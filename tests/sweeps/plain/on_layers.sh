#!/usr/bin/env bash
# What `python -m tests.sweeps.plain` does inside its mount namespace: on_layers.sh FOLDER CLONE
set -Eeuo pipefail
folder=$1 clone=$2
mount -t tmpfs -o mode=755 tmpfs "$folder"
for place in etc opt var/lib; do
    layer=$folder/layers/${place//\//-}
    mkdir -p "$layer/up" "$layer/work"
    mount -t overlay overlay -o "lowerdir=/$place,upperdir=$layer/up,workdir=$layer/work" "/$place"
done
mkdir -p "$folder/bin" "$folder/run"
cat >"$folder/bin/systemctl" <<'STANDIN'
#!/usr/bin/env bash
# Starts and stops what units say, where no systemd is.
set -Eeuo pipefail
run=$(dirname "$0")/../run
of() { sed -n "s/^$2=//p" "/etc/systemd/system/$1"; }
start() {
    (
        cd "$(of "$1" WorkingDirectory)"
        umask "$(of "$1" UMask)"
        set -a
        # shellcheck source=/dev/null
        . "$(of "$1" EnvironmentFile)"
        set +a
        user=$(of "$1" User)
        # shellcheck disable=SC2046
        exec setsid setpriv --reuid "$user" --regid "$(of "$1" Group)" --init-groups \
            --bounding-set=-all --inh-caps=-all --no-new-privs $(of "$1" ExecStart)
    ) >>"$run/$1.log" 2>&1 &
    echo $! >"$run/$1.pid"
}
stop() {
    [ -f "$run/$1.pid" ] || return 0
    pid=$(cat "$run/$1.pid")
    rm "$run/$1.pid"
    kill -TERM "$pid" 2>/dev/null || return 0
    for _ in $(seq 300); do kill -0 "$pid" 2>/dev/null || return 0; sleep 0.1; done
    kill -KILL -- "-$pid" 2>/dev/null || true
}
what=$1
shift
for unit in "$@"; do
    [[ $unit == *.service ]] || continue
    case $what in
        enable | start) start "$unit" ;;
        stop) stop "$unit" ;;
        restart) stop "$unit"; start "$unit" ;;
    esac
done
STANDIN
chmod 755 "$folder/bin/systemctl"
export PATH=$folder/bin:/usr/sbin:/usr/bin:/sbin:/bin
away() { systemctl stop rowbook-web.service rowbook-work.service || true; }
trap away EXIT
say() { printf '\n== %s\n' "$*"; }

healthy() {
    local tries
    for ((tries = 0; tries < 240; tries++)); do
        if said=$(bin/plain status 2>/dev/null) && grep -q '"work": "alive"' <<<"$said"; then
            echo "$said"
            return
        fi
        sleep 0.5
    done
    tail -n 20 "$folder"/run/*.log >&2
    return 1
}
manage() { (cd /opt/rowbook/current && set -a && . /etc/rowbook.env && set +a && umask 077 && runuser -u rowbook -- venv/bin/python manage.py "$@"); }
clients() { manage shell -v 0 -c 'from jobs.models import Client; print(*Client.objects.values_list("name", flat=True))'; }
who() { ps -o user= -p "$(cat "$folder/run/$1.pid")"; }

say "a clone of its own"
git clone -q "$clone" "$folder/clone"
cd "$folder/clone"

say "install"
bin/plain install
healthy
[ "$(who rowbook-web.service) $(who rowbook-work.service)" = "rowbook rowbook" ]
manage shell -v 0 -c 'from jobs.models import Client, Company
company = Company.objects.create(name="Example Floors")
Client.objects.create(company=company, name="Before")'

say "upgrade, with a migration"
cat >jobs/migrations/9999_a_later_one.py <<'LATER'
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("jobs", "LAST")]
    operations = [
        migrations.AddField("client", "later", models.CharField(default="", max_length=9)),
        migrations.RemoveField("client", "later"),
    ]
LATER
last=$(find jobs/migrations -name '0*.py' | sort | tail -n 1 | xargs basename -s .py)
sed -i "s/LAST/$last/" jobs/migrations/9999_a_later_one.py
git add -A
git -c user.name=later -c user.email=later@example.com commit -qm "A later one"
bin/plain upgrade
healthy
[ "$(clients)" = Before ]
manage shell -v 0 -c 'from jobs.models import Client, Company
Client.objects.create(company=Company.objects.get(), name="Since")'

say "roll back: tables changed since, so it must be said that what came since is lost"
if bin/plain rollback; then exit 1; fi
[ "$(clients)" = "Before Since" ]
bin/plain rollback --lose-what-came-since
healthy
[ "$(clients)" = Before ]

say "the units"
for unit in /etc/systemd/system/rowbook-*.service; do
    systemd-analyze verify "$unit" 2>&1 | grep "$(basename "$unit")" && exit 1
done
say "installed, upgraded and rolled back; both units ran as $(who rowbook-web.service)"
