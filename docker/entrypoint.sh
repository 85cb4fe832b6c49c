#!/usr/bin/env bash
# Prepare the data folder and the database, then become one part of the site: web, work or manage.
set -Eeuo pipefail
cd "$(dirname "$0")/.."
umask 077 # the data are nobody else's to read

[ -n "${SECRET_KEY-}" ] || python -m installer_site.env

case "${1-}" in
    web)
        python manage.py migrate --no-input
        python manage.py collectstatic --no-input --verbosity 0
        exec gunicorn installer_site.wsgi:application \
            --bind "0.0.0.0:${PORT:-8000}" --workers 2 --threads 4 --timeout 60 --no-control-socket --preload
        ;;
    work) exec python manage.py work ;;
    manage) shift; exec python manage.py "$@" ;;
    *) echo "entrypoint: write web, work or manage COMMAND, not '${1-}'" >&2; exit 2 ;;
esac
