"""A real calendar server (Radicale) on this machine for tests, and one between us and it who counts and meddles."""

from __future__ import annotations

import base64
import http.client
import re
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from types import TracebackType

PASSWORD = "a pässword: for tests"
USERS = [f"user{n}" for n in range(60)]
PATIENCE = 20  # seconds
CONFIG = """[server]
hosts = 127.0.0.1:{port}
[auth]
type = htpasswd
htpasswd_filename = {folder}/users
htpasswd_encryption = plain
delay = 0
[rights]
type = owner_only
[storage]
filesystem_folder = {folder}/data
"""

# As `python -m radicale` does, but not waiting for the disk after each writing: that is not what is tested.
SERVE = """import sys
from radicale import config, server
one = config.load([(sys.argv[1], False)])
one.update({"storage": {"_filesystem_fsync": "False"}}, "tests", privileged=True)
server.serve(one)
"""


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


class Radicale:
    """The server as a process of its own, with its store in a folder; can be killed and started again."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.port = folder, free_port()
        (folder / "users").write_text("".join(f"{user}:{PASSWORD}\n" for user in USERS), "utf-8")
        (folder / "config").write_text(CONFIG.format(port=self.port, folder=folder), "utf-8")
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}/"

    def start(self) -> None:
        with (self.folder / "log").open("ab") as log:
            command = [sys.executable, "-c", SERVE, str(self.folder / "config")]
            self.process = subprocess.Popen(command, stdout=log, stderr=log)
        until = time.monotonic() + PATIENCE
        while True:
            try:
                socket.create_connection(("127.0.0.1", self.port), 1).close()
                return
            except OSError:
                assert self.process.poll() is None, (self.folder / "log").read_text()
                assert time.monotonic() < until
                time.sleep(0.02)

    def kill(self) -> None:
        if self.process:
            self.process.kill()
            self.process.wait(PATIENCE)
            self.process = None

    def wipe(self) -> None:
        shutil.rmtree(self.folder / "data", ignore_errors=True)


class Account:
    """One user of a server, seen without any of our code: plain requests."""

    def __init__(self, port: int, user: str) -> None:
        self.port, self.user = port, user

    def ask(self, method: str, path: str, body: bytes | str = b"", **headers: str) -> tuple[int, bytes]:
        sent = base64.b64encode(f"{self.user}:{PASSWORD}".encode()).decode()
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        data = body.encode() if isinstance(body, str) else body
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        line.request(method, path, data, {"Authorization": f"Basic {sent}", **named})
        answer = line.getresponse()
        found = answer.status, answer.read()
        line.close()
        return found

    def calendars(self) -> dict[str, str]:
        """Address and name of each calendar."""
        wanted = '<?xml version="1.0"?><propfind xmlns="DAV:"><prop><displayname/><resourcetype/></prop></propfind>'
        status, body = self.ask("PROPFIND", f"/{self.user}/", wanted, Depth="1")
        assert status in (207, 404), (status, body)
        found = {}
        for part in re.findall(r"<response>(.*?)</response>", body.decode(), re.S):
            href, name = re.search(r"<href>(.*?)</href>", part), re.search(r"<displayname>(.*?)</displayname>", part)
            if href and "calendar" in part.split("<resourcetype>")[-1]:
                found[href[1]] = name[1] if name else ""
        return found

    def ours(self) -> str:
        """The address of the one calendar that is named as ours."""
        found = [href for href, name in self.calendars().items() if name == "Exercise"]
        assert len(found) == 1, found
        return found[0]

    def whole(self, href: str) -> bytes:
        """A calendar as one file."""
        status, body = self.ask("GET", href)
        assert status == 200, status
        return body

    def resources(self, href: str) -> dict[str, bytes]:
        """Each resource of a calendar by its address, as it is kept."""
        wanted = '<?xml version="1.0"?><propfind xmlns="DAV:"><prop><getetag/></prop></propfind>'
        status, body = self.ask("PROPFIND", href, wanted, Depth="1")
        assert status == 207, status
        found = re.findall(r"<href>(.*?)</href>", body.decode())
        return {one: self.ask("GET", one)[1] for one in found if one != href}

    def make(self, name: str, shown: str) -> str:
        """A calendar that is none of ours."""
        href = f"/{self.user}/{name}/"
        body = (
            '<?xml version="1.0"?><C:mkcalendar xmlns="DAV:" xmlns:C="urn:ietf:params:xml:ns:caldav"><set><prop>'
            f"<displayname>{shown}</displayname></prop></set></C:mkcalendar>"
        )
        assert self.ask("MKCALENDAR", href, body)[0] == 201
        return href

    def put(self, href: str, data: bytes) -> None:
        status, body = self.ask("PUT", href, data, Content_Type="text/calendar; charset=utf-8")
        assert status in (200, 201, 204), (status, body)


class Between:
    """A pass-through before a server. `asked`: each request's method and path; `hook` may answer in its place."""

    def __init__(self, target: int) -> None:
        self.target = target
        self.asked: list[tuple[str, str]] = []
        self.told: list[dict[str, str]] = []
        self.hook: Callable[[str, str], tuple[int, dict[str, str]] | None] | None = None
        self.after: Callable[[str, str], None] | None = None
        between = self

        class Handler(BaseHTTPRequestHandler):
            def handle_any(self) -> None:
                between.pass_on(self)

            def log_message(self, *parts: object) -> None:
                pass

        for method in ("GET", "PUT", "DELETE", "PROPFIND", "PROPPATCH", "REPORT", "MKCALENDAR", "OPTIONS"):
            setattr(Handler, f"do_{method}", Handler.handle_any)
        self.server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.server.daemon_threads = True
        self.port = self.server.server_address[1]
        self.thread = Thread(target=self.server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}/"

    def methods(self, *names: str) -> int:
        """How many requests of these methods came."""
        return sum(method in names for method, _ in self.asked)

    def pass_on(self, handler: BaseHTTPRequestHandler) -> None:
        method, path = handler.command, handler.path
        body = handler.rfile.read(int(handler.headers.get("Content-Length") or 0))
        self.asked.append((method, path))
        self.told.append(dict(handler.headers))
        instead = self.hook(method, path) if self.hook else None
        if instead:
            status, headers = instead
            data = headers.pop("body", "").encode()
            self.answer(handler, status, headers, data)
            return
        line = http.client.HTTPConnection("127.0.0.1", self.target, timeout=PATIENCE)
        try:
            line.request(method, path, body, {k: v for k, v in handler.headers.items() if k != "Connection"})
            answer = line.getresponse()
            data = answer.read()
        except OSError:
            handler.close_connection = True
            return  # the server is gone: so are we
        finally:
            line.close()
        keep = {k: v for k, v in answer.getheaders() if k.lower() not in ("content-length", "connection")}
        try:
            if self.after:
                self.after(method, path)
        except ConnectionError:
            handler.close_connection = True
            return
        self.answer(handler, answer.status, keep, data)

    @staticmethod
    def answer(handler: BaseHTTPRequestHandler, status: int, headers: dict[str, str], data: bytes) -> None:
        handler.send_response(status)
        for name, value in headers.items():
            handler.send_header(name, value)
        handler.send_header("Content-Length", str(len(data)))
        handler._headers_buffer.append(b"\r\n" + data)  # in one piece: two would wait for each other
        handler.flush_headers()

    def __enter__(self) -> Between:
        self.thread.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, tb: TracebackType | None) -> None:
        self.server.shutdown()
        self.server.server_close()
        self.thread.join(PATIENCE)
