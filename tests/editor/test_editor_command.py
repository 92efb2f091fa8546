"""`planlang editor` where the package that it asks for is missing."""

import sys

from planlang.cli.main import run


def test_a_missing_package_is_named_in_one_sentence(monkeypatch, capsys):
    for name in [name for name in sys.modules if name.startswith(("pygls", "planlang.editor.server"))]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "pygls", None)
    assert run(["editor"]) == 2
    assert "pip install 'planlang[editor]'" in capsys.readouterr().err
