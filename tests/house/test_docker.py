"""The container files, as far as they can be judged without an engine."""

from __future__ import annotations

import re
import shlex
import subprocess
from typing import Any

import pytest
import yaml

from tests.conftest import ROOT
from tests.house.test_docs import variables_read

Compose = dict[str, Any]
"""What compose.yaml says. Any: it nests as its own rules have it."""

DOCKER = ROOT / "docker"
DOCKERFILE = (DOCKER / "Dockerfile").read_text()
ENTRYPOINT = (DOCKER / "entrypoint.sh").read_text()


@pytest.fixture(name="compose", scope="module")
def read_compose() -> Compose:
    """Return compose.yaml with its anchors resolved."""
    compose: Compose = yaml.safe_load((DOCKER / "compose.yaml").read_text())
    return compose


def copied() -> list[str]:
    """Return every file and folder the Dockerfile copies from the tree."""
    lines = re.findall(r"^COPY (.+)$", DOCKERFILE, flags=re.MULTILINE)
    return [source for line in lines for source in shlex.split(line)[:-1]]


def test_every_copied_source_exists() -> None:
    assert copied()
    assert [source for source in copied() if not (ROOT / source).exists()] == []


def test_every_copied_source_is_sent_to_the_engine() -> None:
    kept = {line[1:] for line in (ROOT / ".dockerignore").read_text().splitlines() if "!" in line}
    assert {source.partition("/")[0] for source in copied()} <= kept


def test_the_image_is_built_by_the_same_doors_and_lock() -> None:
    assert "RUN bin/provision " in DOCKERFILE
    assert "RUN bin/venv /opt/venv requirements.lock" in DOCKERFILE


def test_nothing_runs_as_root() -> None:
    last_user = re.findall(r"^USER (\w+)$", DOCKERFILE, flags=re.MULTILINE)[-1]
    assert last_user != "root"
    assert f" {last_user}\n" in DOCKERFILE[: DOCKERFILE.index("USER ")]


def test_web_and_work_are_commands_of_the_entrypoint(compose: Compose) -> None:
    for part in ("web", "work"):
        assert compose["services"][part]["command"] == [part]
        assert re.search(rf"^    {part}\)", ENTRYPOINT, flags=re.MULTILINE)


def test_web_and_work_may_do_nothing_but_write_their_volumes(compose: Compose) -> None:
    for part in ("web", "work"):
        service = compose["services"][part]
        assert (service["read_only"], service["cap_drop"]) == (True, ["ALL"])
        assert service["security_opt"] == ["no-new-privileges:true"]
        assert "healthcheck" in service


def test_every_variable_set_is_one_that_settings_read(compose: Compose) -> None:
    for part in ("web", "work"):
        assert set(compose["services"][part]["environment"]) <= variables_read()


def test_every_service_waited_for_says_when_it_is_healthy(compose: Compose) -> None:
    services = compose["services"]
    awaited = {name for service in services.values() for name in service.get("depends_on", {})}
    assert awaited == {"db", "web"}
    assert all("healthcheck" in services[name] for name in awaited)


def test_every_named_volume_is_declared(compose: Compose) -> None:
    used = {
        volume.partition(":")[0]
        for service in compose["services"].values()
        for volume in service.get("volumes", [])
    }
    assert {name for name in used if not name.startswith(".")} == set(compose["volumes"])


def test_the_proxy_passes_on_to_the_web_service(compose: Compose) -> None:
    target = re.search(r"reverse_proxy (\w+):(\d+)", (DOCKER / "Caddyfile").read_text())
    assert target
    assert target[1] in compose["services"]
    assert f"EXPOSE {target[2]}" in DOCKERFILE


def test_the_entrypoint_refuses_an_unknown_part() -> None:
    ended = subprocess.run(
        ["bash", DOCKER / "entrypoint.sh", "kitchen"],
        env={"PATH": "/usr/bin:/bin", "SECRET_KEY": "set, so that none is made"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 2
    assert "not 'kitchen'" in ended.stderr
