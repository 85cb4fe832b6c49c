"""Somebody who asks the pictured site for pages, signed in or not, without a browser."""

from __future__ import annotations

from dataclasses import dataclass
from http.client import HTTPConnection
from http.cookies import SimpleCookie
from urllib.parse import urlencode

from django.urls import reverse

from tests.pictures import HOST

PATIENCE_S = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the site answered: the status, the kind of content without parameters, the content."""

    status: int
    kind: str
    body: bytes


class SignInError(RuntimeError):
    """The site did not take an address and a password."""


class Visitor:
    """A person with cookies; redirects are answers, not followed."""

    def __init__(self, port: int) -> None:
        self._port = port
        self.cookies: dict[str, str] = {}

    def get(self, path: str) -> Answer:
        """Return the answer to a GET."""
        return self._send("GET", path, None)

    def sign_in(self, email: str, password: str) -> None:
        """Sign in by the form. Raises SignInError where the form comes back."""
        path = reverse("sign-in")
        self.get(path)
        token = self.cookies["csrftoken"]
        fields = {"username": email, "password": password, "csrfmiddlewaretoken": token}
        status = self._send("POST", path, urlencode(fields)).status
        if status != 302:
            message = f"signing in as {email} was answered with {status}"
            raise SignInError(message)

    def _send(self, method: str, path: str, body: str | None) -> Answer:
        headers = {"Host": HOST, "Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())}
        if body is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        connection = HTTPConnection("127.0.0.1", self._port, timeout=PATIENCE_S)
        try:
            connection.request(method, path, body, headers)
            response = connection.getresponse()
            for line in response.msg.get_all("Set-Cookie", []):
                self.cookies |= {name: one.value for name, one in SimpleCookie(line).items()}
            kind = response.headers.get_content_type()
            return Answer(status=response.status, kind=kind, body=response.read())
        finally:
            connection.close()
