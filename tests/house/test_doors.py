"""The scripts in bin/, from outside: what they ask for, what they refuse."""

from __future__ import annotations

import fcntl
import os
import socket
import subprocess
from pathlib import Path

import pytest

from tests.conftest import ROOT

RUN_PACKAGES = {
    "python3-venv",
    "libpango-1.0-0",
    "libpangoft2-1.0-0",
    "libharfbuzz-subset0",
    "fonts-inter",
    "fonts-dejavu-core",
}
TEST_PACKAGES = {
    "chromium",
    "chromium-headless-shell",
    "libatomic1",
    "poppler-utils",
    "postgresql",
    "shellcheck",
}

SYSTEM_PATH = "/usr/bin:/bin:/usr/sbin:/sbin"
DOORS = [("bin/demo",), ("bin/test",), ("bin/test", "--postgres"), (".ci/run",)]


def run(
    *command: str, path: Path | str | None = None, **environment: str
) -> subprocess.CompletedProcess[str]:
    """Run a door with a clean environment; `path` replaces the search path."""
    search = str(path) if path else SYSTEM_PATH
    return subprocess.run(
        ["/bin/bash", *command],
        cwd=ROOT,
        env={"PATH": search, "HOME": "/nonexistent", **environment},
        capture_output=True,
        text=True,
        check=False,
    )


def tool(folder: Path, name: str, script: str) -> None:
    """Put a program of our own into a folder that serves as the search path."""
    (folder / name).write_text(f"#!/bin/bash\n{script}\n")
    (folder / name).chmod(0o755)


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """Return a search path of a machine with nothing installed, seen by an ordinary user."""
    tool(tmp_path, "dpkg-query", "exit 1")
    tool(tmp_path, "id", "echo 1000")
    tool(tmp_path, "apt-get", 'echo "apt-get $*"')
    return tmp_path


def test_without_sudo_the_one_command_for_root_is_printed(bare: Path) -> None:
    ended = run("bin/provision", path=bare)
    assert ended.returncode == 1
    update, install = ended.stdout.strip().split(" && ")
    assert update == "apt-get update -q"
    assert set(install.split()) >= RUN_PACKAGES
    assert "As root, run:" in ended.stderr


def test_tests_ask_for_a_browser_and_a_second_database(bare: Path) -> None:
    ended = run("bin/provision", "--tests", path=bare)
    assert set(ended.stdout.split()) >= RUN_PACKAGES | TEST_PACKAGES


def test_where_sudo_refuses_the_one_command_for_root_is_printed(bare: Path) -> None:
    tool(bare, "sudo", "exit 1")
    ended = run("bin/provision", path=bare)
    assert ended.returncode == 1
    assert ended.stdout.startswith("apt-get update -q && apt-get install")
    assert "As root, run:" in ended.stderr


def test_with_sudo_the_same_is_done(bare: Path) -> None:
    tool(bare, "sudo", 'echo "as root: $*"')
    ended = run("bin/provision", path=bare)
    assert ended.returncode == 0
    assert "as root: apt-get update" in ended.stdout
    assert "as root: apt-get install" in ended.stdout


def test_root_needs_no_sudo(bare: Path) -> None:
    tool(bare, "id", "echo 0")
    ended = run("bin/provision", path=bare)
    assert ended.returncode == 0
    assert "\napt-get install" in ended.stdout


def test_where_all_is_installed_nothing_is_done(bare: Path) -> None:
    tool(bare, "dpkg-query", "echo installed")
    ended = run("bin/provision", "--tests", path=bare)
    assert (ended.returncode, ended.stdout, ended.stderr) == (0, "", "")


def test_only_what_is_missing_is_installed(bare: Path) -> None:
    tool(bare, "dpkg-query", '[ "${@: -1}" = fonts-inter ] || echo installed')
    ended = run("bin/provision", path=bare)
    assert ended.stdout.split("--no-install-recommends ")[1].split() == ["fonts-inter"]


def without_the_quick_browser(bare: Path, *, whole: bool) -> None:
    """Let the machine lack the quick browser, which can't be had; `whole`: the other is there."""
    lacking = "chromium-headless-shell" if whole else "chromium*"
    tool(bare, "dpkg-query", f'[[ "${{@: -1}}" = {lacking} ]] || echo installed')
    tool(bare, "apt-get", '[ "$1" = update ]')
    tool(bare, "id", "echo 0")


def test_tests_go_on_without_the_quick_browser_where_the_whole_one_is(bare: Path) -> None:
    without_the_quick_browser(bare, whole=True)
    ended = run("bin/provision", "--tests", path=bare)
    assert ended.returncode == 0
    assert "browser tests take longer without it" in ended.stderr


def test_tests_go_on_without_the_quick_browser_for_an_ordinary_user(bare: Path) -> None:
    without_the_quick_browser(bare, whole=True)
    tool(bare, "id", "echo 1000")
    ended = run("bin/provision", "--tests", path=bare)
    assert ended.returncode == 0
    assert "browser tests take longer without it" in ended.stderr


def test_without_any_browser_provisioning_fails(bare: Path) -> None:
    without_the_quick_browser(bare, whole=False)
    ended = run("bin/provision", "--tests", path=bare)
    assert ended.returncode != 0
    assert "longer" not in ended.stderr


def test_an_unknown_argument_is_refused() -> None:
    assert run("bin/provision", "--everything").returncode == 2


@pytest.fixture
def refused(bare: Path) -> str:
    """Return the search path of that machine with its usual tools, where sudo refuses."""
    tool(bare, "sudo", "exit 1")
    tool(bare, "mktemp", 'echo "mktemp $*" >&2; exit 1')  # a test's folder, a cluster's folder
    return f"{bare}:{SYSTEM_PATH}"


@pytest.mark.parametrize("door", DOORS, ids=" ".join)
def test_a_door_that_may_not_install_names_the_one_command_for_root(
    door: tuple[str, ...], refused: str, tmp_path: Path
) -> None:
    ended = run(*door, path=refused, PORT="1", ROWBOOK_VAR=str(tmp_path / "var"))
    wanted = RUN_PACKAGES if door == ("bin/demo",) else RUN_PACKAGES | TEST_PACKAGES
    assert ended.returncode == 1
    assert set(ended.stdout.partition("apt-get install")[2].split()) >= wanted


@pytest.mark.parametrize("door", DOORS, ids=" ".join)
def test_a_door_installs_before_it_makes_anything(
    door: tuple[str, ...], refused: str, tmp_path: Path
) -> None:
    ended = run(*door, path=refused, PORT="1", ROWBOOK_VAR=str(tmp_path / "var"))
    assert [line.partition(":")[0] for line in ended.stderr.splitlines()] == ["bin/provision"]
    assert not (tmp_path / "var" / "venv").exists()


def test_a_test_run_goes_on_once_all_is_installed(bare: Path, refused: str) -> None:
    tool(bare, "dpkg-query", "echo installed")
    assert run("bin/test", path=refused).stderr == "mktemp -d -t rowbook-test.XXXXXX\n"


@pytest.mark.parametrize("port", ["abc", "0", "70000", "80 90"])
def test_the_demo_refuses_a_port_that_is_none(port: str, tmp_path: Path) -> None:
    ended = run("bin/demo", PORT=port, ROWBOOK_VAR=str(tmp_path))
    assert ended.returncode == 1
    assert f"PORT='{port}' can't be used: write a whole number from 1 to 65535." in ended.stderr


def test_the_demo_refuses_a_port_in_use_before_it_starts_anything(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        ended = run("bin/demo", PORT=port, ROWBOOK_VAR=str(tmp_path))
    assert ended.returncode == 1
    assert f"port {port} of 127.0.0.1 is in use" in ended.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == ["demo.lock", "log"]


def test_a_second_demo_on_the_same_data_is_refused(tmp_path: Path) -> None:
    with (tmp_path / "demo.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        ended = run("bin/demo", PORT="1", ROWBOOK_VAR=str(tmp_path))
    assert ended.returncode == 1
    assert "a demo already runs" in ended.stderr


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Return an environment made from a lock that asks for nothing, and the lock."""
    folder = tmp_path_factory.mktemp("made")
    environment, lock = folder / "venv", folder / "empty.lock"
    lock.write_text("")
    assert run("bin/venv", str(environment), str(lock)).returncode == 0
    return environment, lock


def test_a_whole_environment_is_left_as_it_is(made: tuple[Path, Path]) -> None:
    assert run("bin/venv", *map(str, made)).stdout == ""


def test_a_changed_lock_is_installed_anew_and_a_broken_installation_leaves_no_stamp(
    made: tuple[Path, Path],
) -> None:
    environment, lock = made
    lock.write_text("django==5.2\n")  # without a hash: refused by the installer
    ended = run("bin/venv", str(environment), str(lock))
    assert "Making the environment" in ended.stdout
    assert ended.returncode != 0
    assert not (environment / "stamp").exists()


def test_a_cluster_is_handed_over_and_gone_afterwards() -> None:
    ended = run("bin/with-postgres", "bash", "-c", "echo $DATABASE_URL; exit 7")
    socket_folder = Path(ended.stdout.strip().removeprefix("postgres://rowbook@/")).parent
    assert ended.returncode == 7
    assert socket_folder.name.startswith("rowbook-pg.")
    assert not socket_folder.exists()


def test_continuous_integration_runs_the_door_of_tests_and_nothing_else() -> None:
    commands = (ROOT / ".ci" / "run").read_text().splitlines()
    assert [line for line in commands if line.startswith("bin/")] == ["bin/test"]


def test_every_door_can_be_run() -> None:
    doors = [*(ROOT / "bin").iterdir(), ROOT / ".ci" / "run", ROOT / "docker" / "entrypoint.sh"]
    assert [door for door in doors if not os.access(door, os.X_OK)] == []
