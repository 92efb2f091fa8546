"""The password for a server: from the environment or the keyring of the machine, never from the command line."""

from __future__ import annotations

import os

import click

PASSWORD, USER = "PLANLANG_PASSWORD", "PLANLANG_USER"


def user_of(option: str | None) -> str:
    """The user's name, from the option or the environment. None at all is a wrong call."""
    user = option or os.environ.get(USER, "")
    if not user.strip():
        raise click.UsageError(f"say who signs in at the server: --user NAME, or {USER} in the environment")
    if ":" in user:  # RFC 7617, 2
        raise click.BadParameter("a user's name holds no colon", param_hint="--user")
    return user


def password_for(origin: str, user: str) -> str:
    """The password of a user at a server. None at all is a wrong call; the text says where to put one."""
    found = os.environ.get(PASSWORD) or _in_keyring(service(origin), user)
    if found:
        return found
    raise click.UsageError(
        f"there is no password for this user of {origin}. Put it into the environment as {PASSWORD}, or into this"
        f" machine's keyring: pip install 'planlang[keyring]' and then keyring set '{service(origin)}' NAME.\n"
        "A clinic never asks for the password of a person's own server: give the file that planlang compile writes."
    )


def service(origin: str) -> str:
    """The name under which a keyring keeps the passwords for a server."""
    return f"planlang {origin}"


def _in_keyring(service: str, user: str) -> str | None:
    try:
        import keyring
        from keyring.errors import KeyringError
    except ImportError:
        return None
    try:
        return keyring.get_password(service, user)
    except KeyringError:
        return None
