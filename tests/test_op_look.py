import json
from pathlib import Path
import pytest
from jobs.domain.documents import canonical_json
from jobs.readers.packets.gather import gather
from tests.packet_sheets.houses import nine_rooms
pytestmark = pytest.mark.django_db
def test_look():
    job = nine_rooms()
    content = json.loads(canonical_json(gather(job))) | {"number": 1, "issued_on": "2027-02-26"}
    Path("/tmp/shots/onepacket/nine_rooms.json").write_text(json.dumps(content))
