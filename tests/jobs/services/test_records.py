"""Services write once: the second sending, a key of another action, a write that fails."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest
from django.db import IntegrityError

from jobs.domain.checks import BadValueError
from jobs.models import AuditLine, Client, SentOnce, User
from jobs.services import people
from jobs.services.records import StaleError
from tests.builders import make_company, make_person
from tests.conftest import ROOT

pytestmark = pytest.mark.django_db


def add_client(owner: User, name: str = "Ada Lind", key: str = "k1") -> Client:
    """Return what the service returns for a new client."""
    assert owner.company is not None
    values = {"name": name}
    return people.add_client(company=owner.company, user=owner, key=key, values=values)


def test_sent_again_it_returns_the_row_of_the_first(owner: User) -> None:
    first = add_client(owner)
    assert add_client(owner) == first


def test_sent_again_it_writes_nothing(owner: User) -> None:
    client = add_client(owner)
    add_client(owner, name="Ada Berg")
    client.refresh_from_db()
    assert client.name == "Ada Lind"
    assert AuditLine.objects.count() == 1


def test_sent_again_it_returns_the_row_as_it_stands_now(owner: User) -> None:
    Client.objects.filter(pk=add_client(owner).pk).update(name="Ada Berg")
    assert add_client(owner).name == "Ada Berg"


def test_a_key_is_of_one_company(owner: User) -> None:
    other = make_person(make_company("Other Floors"))
    assert add_client(owner) != add_client(other)


def rename(client: Client, owner: User, *, key: str, expected: int = 1) -> Client:
    """Return what the service returns for a client under another name."""
    values = {"name": "Ada Berg"}
    return people.change_client(
        client=client, user=owner, key=key, expected=expected, values=values
    )


def test_a_key_of_another_action_is_refused(owner: User) -> None:
    client = add_client(owner)
    with pytest.raises(BadValueError, match="that of “add client”"):
        rename(client, owner, key="k1")
    assert Client.objects.get().name == "Ada Lind"


def test_a_write_that_was_overtaken_may_be_sent_again(owner: User) -> None:
    client = add_client(owner)
    with pytest.raises(StaleError):
        rename(client, owner, key="k2", expected=7)
    assert rename(client, owner, key="k2").name == "Ada Berg"


def test_a_write_that_fails_leaves_no_key_behind(owner: User) -> None:
    with pytest.raises(IntegrityError):
        add_client(owner, name="")
    assert not SentOnce.objects.exists()


def test_nobody_without_a_company_writes(owner: User) -> None:
    stranger = User.objects.create_user("stranger@example.com", name="Nobody's")
    assert owner.company is not None
    with pytest.raises(ValueError, match="Nobody's belongs to no company"):
        people.add_client(company=owner.company, user=stranger, key="k1", values={"name": "Ada"})


def keyed_services() -> Iterator[tuple[str, ast.FunctionDef]]:
    """Yield every service that is sent a key, by its file."""
    for app in ("jobs", "estimates"):
        for path in sorted((ROOT / app / "services").rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text())):
                if isinstance(node, ast.FunctionDef) and _is_keyed(node):
                    yield path.name, node


def _is_keyed(function: ast.FunctionDef) -> bool:
    return {"user", "key"} <= {arg.arg for arg in function.args.kwonlyargs}


def uses_its_key(service: ast.FunctionDef) -> bool:
    """Whether a service writes once, or hands its key on to one that does."""
    if "@writes_once(" in ast.unparse(service):
        return True
    handed = (node for node in ast.walk(service) if isinstance(node, ast.keyword))
    return any(node.arg == "key" and "key" in names_in(node.value) for node in handed)


def names_in(value: ast.expr) -> set[str]:
    """Return the names that a value is made of."""
    return {node.id for node in ast.walk(value) if isinstance(node, ast.Name)}


def test_every_service_that_is_sent_a_key_writes_once() -> None:
    services = list(keyed_services())
    assert len(services) > 40
    assert [(name, each.name) for name, each in services if not uses_its_key(each)] == []
