"""A person's account on a CalDAV server, through the caldav library: no more than publishing needs of it.

Every writing names the version that it replaces (RFC 9110, 13.1: If-Match, If-None-Match), so that what changes
between looking and writing is left alone. Nothing here raises anything but ServerFault and Conflict, and no text of
theirs holds a password or a word of a calendar.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any
from urllib.parse import unquote, urljoin

import niquests
from attrs import field
from caldav.davclient import DAVClient
from caldav.lib import error

from planlang.calendar.server.address import Address
from planlang.calendar.server.faults import Conflict, ServerFault
from planlang.calendar.server.place import Place
from planlang.calendar.server.resource import Kept, kept
from planlang.calendar.server.session import Limits, OneServer
from planlang.text.data import define

ICS = "text/calendar; charset=utf-8"
CREATED, DONE = (200, 201, 204), (200, 204)
TAKEN = (409, 412)  # RFC 4791, 5.3.2.1: the UID or the name is in use
GONE, CHANGED = 404, 412


@define
class Connection:
    """Signed in at a server as one user. To be closed."""

    address: Address
    user: str
    password: str = field(repr=False)
    limits: Limits = field(factory=Limits)
    _client: Any = field(init=False, repr=False)  # DAVClient is typed in parts only

    def __attrs_post_init__(self) -> None:
        _quiet()
        with self._asking():
            client: Any = DAVClient(
                self.address.url, username=self.user, password=self.password, enable_rfc6764=False, features={}
            )
            client.session.close()
            client.session = OneServer(self.address, self.limits)
        self._client = client

    def close(self) -> None:
        """Lets go of the server."""
        self._client.close()

    def calendars(self) -> tuple[Place, ...]:
        """The user's calendars."""
        with self._asking():
            found = self._client.get_calendars(self._client.principal())
            return tuple(Place(self._full(str(one.url)), str(one.get_display_name() or "")) for one in found)

    def make(self, id: str, name: str) -> Place:
        """A new calendar of events with this name; `id` is the last part of its address where the server allows."""
        with self._asking():
            made = self._client.principal().make_calendar(
                name=name, cal_id=id, supported_calendar_component_set=["VEVENT"]
            )
            return Place(self._full(str(made.url)), name)

    def events(self, place: Place) -> tuple[Kept, ...]:
        """Every event of a calendar that stands alone in its resource and can be read: one request."""
        with self._asking():
            found = self._client.calendar(url=place.url).get_events()
            read = (kept(self._full(str(one.url)), one.etag, one.data or "") for one in found)
            return tuple(one for one in read if one is not None)

    def is_empty(self, place: Place) -> bool:
        """True where a calendar holds nothing at all, of whatever kind."""
        with self._asking():
            answer = self._client.propfind(place.url, props=["{DAV:}resourcetype", "{DAV:}getetag"], depth=1)
            self._done(answer.status, (207,))
            there = {unquote(one.href).rstrip("/") for one in answer.results or ()}
            here = unquote(place.url.removeprefix(self.address.origin)).rstrip("/")
            return there <= {here}

    def create(self, place: Place, uid: str, data: bytes) -> None:
        """Writes an event that is not there. Raises Conflict where something with its UID or name is."""
        url = f"{place.url.rstrip('/')}/{uid}.ics"
        status = self._written(url, data, {"If-None-Match": "*"})
        if status in TAKEN:
            raise Conflict("something with its identity has come to stand there")
        self._done(status, CREATED)

    def change(self, event: Kept, data: bytes) -> None:
        """Writes an event anew in place of the version that was read. Raises Conflict where that is gone."""
        status = self._written(event.href, data, {"If-Match": _version(event)})
        if status in (GONE, *TAKEN):
            raise Conflict("it has been changed or removed since we looked")
        self._done(status, CREATED)

    def remove(self, event: Kept) -> None:
        """Removes the version of an event that was read. Raises Conflict where there is another one now."""
        with self._asking():
            status = self._client.delete(event.href, {"If-Match": _version(event)}).status
        if status == CHANGED:
            raise Conflict("it has been changed since we looked")
        if status != GONE:
            self._done(status, DONE)

    def remove_calendar(self, place: Place) -> None:
        """Removes a calendar with all that is in it."""
        with self._asking():
            status = self._client.delete(place.url).status
        if status != GONE:
            self._done(status, DONE)

    def _written(self, url: str, data: bytes, condition: dict[str, str]) -> int:
        try:
            with self._asking():
                answer = self._client.put(url, data, {**condition, "Content-Type": ICS})
                return int(answer.status)
        except _Refused as fault:
            if fault.uid_taken:
                raise Conflict("something with its identity stands in this or another calendar") from None
            raise ServerFault(str(fault)) from None

    def _full(self, url: str) -> str:
        return urljoin(self.address.url, url)

    def _done(self, status: int, wanted: Sequence[int]) -> None:
        if status not in wanted:
            raise ServerFault(f"{self.address.origin} answers {status}, and nothing can be done about that from here")

    @contextmanager
    def _asking(self) -> Iterator[None]:
        """Whatever a question may end in, as one of our faults."""
        where = self.address.origin
        try:
            yield
        except error.AuthorizationError as fault:
            if fault.status == 401:
                raise ServerFault(f"{where} does not know this user with this password") from None
            taken = bool(error.UID_CONFLICT_PRECONDITIONS & set(fault.preconditions))
            raise _Refused(f"{where} does not allow this user to do that", taken) from None
        except error.RateLimitError:
            raise ServerFault(f"{where} asks to be left alone for a while; run the same again later") from None
        except niquests.exceptions.SSLError:
            raise ServerFault(
                f"the certificate of {where} can't be trusted, so nothing was sent; whoever runs the server can say why"
            ) from None
        except niquests.exceptions.Timeout:
            raise ServerFault(f"{where} does not answer in time") from None
        except (OSError, niquests.exceptions.RequestException):
            raise ServerFault(f"{where} can't be reached") from None
        except (
            error.DAVError,
            SyntaxError,
            RuntimeError,
            AssertionError,
            ValueError,
            LookupError,
            TypeError,
            AttributeError,
        ):
            raise ServerFault(f"what {where} answers is not what a calendar server answers") from None


class _Refused(ServerFault):
    """The server allows something not; `uid_taken` where the reason is that the UID stands somewhere already."""

    def __init__(self, text: str, uid_taken: bool) -> None:
        super().__init__(text)
        self.uid_taken = uid_taken


def _version(event: Kept) -> str:
    if not event.etag:
        raise Conflict("the server gives no version of it, so it can't be changed without doubt")
    return event.etag


def _quiet() -> None:
    """The libraries write what they send into their logs, and one of them into files where it is asked to: not here."""
    error.debug_dump_communication = False
    error.debugmode = "PRODUCTION"
    for name in ("caldav", "niquests", "urllib3", "urllib3_future"):
        log = logging.getLogger(name)
        log.setLevel(logging.CRITICAL)
        log.propagate = False
        if not log.handlers:
            log.addHandler(logging.NullHandler())
