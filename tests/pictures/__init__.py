"""Pictures of every page as every role sees it, to be looked at and compared: `bin/pictures`.

    address      one named line of the URLconf, and the rows of the demo that fill its arguments
    onlooker     somebody in a role of the full company or of the empty one
    sight        an address filled in for an onlooker: the page to be looked at
    outcome      what came of a sight: the status it was answered with, and the files it left
    held         a command of `manage.py` run on the pictured day, the clock standing still

No part of the suite: `tests/house/test_pictures.py` holds the tables here against the URLconf.
"""

from datetime import UTC, datetime

# A Wednesday morning in the demo's own town, and the same date in Greenwich.
MOMENT = datetime(2026, 10, 21, 14, 30, tzinfo=UTC)
EFFORT_ITERATIONS = 400
# The name pages show in their links, whatever the port; browsers trust names under localhost.
HOST = "rowbook.localhost"
PHONE, DESK = 390, 1280
