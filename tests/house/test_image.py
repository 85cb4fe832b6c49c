"""`bin/image` with an engine that only pretends: what it starts, refuses and removes."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.conftest import ROOT
from tests.house.test_doors import SYSTEM_PATH, tool

HEALTHY = '{"database": "answers", "work": "alive"}'
ENGINE = """
echo "$@" >>"{log}"
case "$1 $3" in
    "exec python") echo '{health}' ;;
    "exec stat") echo {user} ;;
    "exec grep") exit {caps} ;;
    "exec touch") exit {shut} ;;
esac
"""


def try_image(tmp_path: Path, **says: object) -> tuple[subprocess.CompletedProcess[str], list[str]]:
    """Run the door with a docker that answers so; return what it said and what docker was given."""
    log = tmp_path / "log"
    given = {"log": log, "health": HEALTHY, "user": 10001, "caps": 0, "shut": 1} | says
    tool(tmp_path, "docker", ENGINE.format(**given))
    tool(tmp_path, "podman", "exit 1")
    done = subprocess.run(
        ["/bin/bash", "bin/image", "tried"],
        cwd=ROOT,
        env={"PATH": f"{tmp_path}:{SYSTEM_PATH}", "HOME": "/nonexistent"},
        capture_output=True,
        text=True,
        check=False,
    )
    return done, log.read_text().splitlines() if log.exists() else []


def test_pages_and_worker_are_started_with_nothing_that_they_need_not(tmp_path: Path) -> None:
    done, given = try_image(tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert HEALTHY in done.stdout
    assert "build -f docker/Dockerfile -t tried ." in given
    started = [line for line in given if line.startswith("run ")]
    assert [line.split()[-1] for line in started] == ["web", "work"]
    for line in started:
        assert "--read-only --tmpfs /tmp --cap-drop ALL" in line
        assert "--security-opt no-new-privileges" in line
    removed = [line.split()[0] for line in given[-3:]]
    assert removed == ["rm", "volume", "network"]


@pytest.mark.parametrize(
    ("says", "sentence"),
    [
        ({"user": 0}, "run as root"),
        ({"caps": 1}, "have capabilities left"),
        ({"shut": 0}, "can be written"),
    ],
)
def test_an_image_that_may_more_is_refused(
    tmp_path: Path, says: dict[str, object], sentence: str
) -> None:
    done, given = try_image(tmp_path, **says)
    assert done.returncode == 1
    assert sentence in done.stderr
    assert given[-3].startswith("rm -f")


def alone(tmp_path: Path, **tools: str) -> subprocess.CompletedProcess[str]:
    """Run the door where only these tools answer."""
    for name, text in {
        "docker": "exit 1",
        "podman": "exit 1",
        "buildah": "exit 1",
        **tools,
    }.items():
        tool(tmp_path, name, text)
    return subprocess.run(
        ["/bin/bash", "bin/image"],
        cwd=ROOT,
        env={"PATH": f"{tmp_path}:{SYSTEM_PATH}"},
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_machine_that_can_build_none_says_so(tmp_path: Path) -> None:
    done = alone(tmp_path)
    assert done.returncode == 3
    assert "nothing here builds an image" in done.stderr


def test_without_an_engine_it_is_built_and_only_root_tries_it(tmp_path: Path) -> None:
    log = tmp_path / "log"
    done = alone(tmp_path, buildah=f'echo "$BUILDAH_ISOLATION $@" >>"{log}"', id="echo 1000")
    assert done.returncode == 3
    assert "built and was not tried" in done.stderr
    assert "chroot build -f docker/Dockerfile -t rowbook ." in log.read_text()
