"""`bin/plain` in earnest, on layers over this machine that are gone afterwards.

    sudo python -m tests.sweeps.plain

In a mount namespace of its own, /etc, /opt and /var/lib are layers: the script makes its user,
releases, units and settings there as it does on a new machine. No systemd runs in a namespace, so a
stand-in starts what a unit says: its ExecStart word for word, as its User, without a capability or
new privilege, in its WorkingDirectory, with its EnvironmentFile and UMask. The book must be the
same after the upgrade and after the way back. Exit 1 where a step fails.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from tests.conftest import ROOT

SCRIPT = Path(__file__).with_name("on_layers.sh")


def main() -> int:
    """Return 0 where install, upgrade and roll back went well."""
    with tempfile.TemporaryDirectory(prefix="rowbook-plain-") as folder:
        Path(folder).chmod(0o755)
        words = ["unshare", "--mount", "--propagation", "private", "bash", str(SCRIPT), folder]
        return subprocess.run([*words, str(ROOT)], check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
