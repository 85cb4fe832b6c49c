#!/usr/bin/env bash
# What bin/image starts where no engine runs: in_namespaces.sh ROOT DATA USER WORD [NAME=VALUE...]
#
# In namespaces of its own (mounts, processes), as an engine would: the image's root read-only, a
# /tmp in memory, data on a folder, the image's user, no capability, no new privilege.
set -Eeuo pipefail
root=$1 data=$2 user=$3 word=$4
shift 4
mount --bind "$root" "$root"
mount --bind "$data" "$root/var/lib/rowbook"
mount -t tmpfs tmpfs "$root/tmp"
mount -t proc proc "$root/proc"
mount --rbind /dev "$root/dev"
mount -o remount,bind,ro "$root"
# shellcheck disable=SC2016  # the word is handed on, not written into a command
exec /usr/bin/env -i HOME=/var/lib/rowbook "$@" /usr/sbin/chroot "$root" \
    /usr/bin/setpriv --reuid "$user" --regid "$user" --init-groups \
    --bounding-set=-all --inh-caps=-all --no-new-privs \
    /bin/sh -c 'cd /app && exec docker/entrypoint.sh "$1"' sh "$word"
