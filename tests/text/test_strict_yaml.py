"""YAML read strictly: no surprises of version 1.1, every fault placed."""

from fractions import Fraction

import pytest
from attrs import field, frozen
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.text.finding import Finding
from planlang.text.source import Source, Span
from planlang.text.strict_yaml import Document, read_yaml
from planlang.text.structure import structure


def document(text: str) -> Document:
    found = read_yaml(Source("clinic.yaml", text))
    assert isinstance(found, Document), found
    return found


def fault(text: str) -> tuple[str, str]:
    """The message and the words it is about."""
    found = read_yaml(Source("clinic.yaml", text))
    assert isinstance(found, Finding)
    return found.message, text[found.span.start : found.span.end]


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("on", "on"),
        ("yes", "yes"),
        ("no", "no"),
        ("07:30", "07:30"),
        ("12:30", "12:30"),
        ("010", "010"),
        ("1e3", "1e3"),
        ("2027-03-01", "2027-03-01"),
        ("0x1F", "0x1F"),
        (".inf", ".inf"),
        ("1_000", "1_000"),
        ("'3'", "3"),
        ("true", True),
        ("null", None),
        ("~", None),
        ("3", 3),
        ("-3", -3),
        ("2.5", Fraction(5, 2)),
        ("0.1", Fraction(1, 10)),
        ("9" * 30, "9" * 30),
    ],
)
def test_scalar_is_what_is_written(written, meant):
    value = document(f"a: {written}\n").value["a"]
    assert (value, type(value)) == (meant, type(meant))


@pytest.mark.parametrize(
    ("text", "message", "words"),
    [
        ("a: 1\nb: 2\na: 3\n", 'the key "a" stands twice here', "a"),
        ("a: &x [1]\nb: *x\n", "a part of this file is used twice by an alias (* and &)", "&x [1]"),
        (
            "a: !!python/object:os.system x\n",
            "the tag tag:yaml.org,2002:python/object:os.system means nothing here",
            None,
        ),
        ("? [a]\n: b\n", "a key must be a word", "[a]"),
        ("[" * 70 + "]" * 70, "this is nested too deeply to be meant", None),
    ],
)
def test_what_is_refused_is_named_with_its_place(text, message, words):
    found, at = fault(text)
    assert found == message
    assert words is None or at == words


@pytest.mark.parametrize("text", ["a: [", "a: 'x", "a: 1\n b: 2\n", "a: \x07\n", "a: 1\n---\nb: 2\n", "[" * 100_000])
def test_what_is_no_yaml_is_one_finding(text):
    assert fault(text)[0].startswith("this is not YAML: ")


def test_alias_bomb_is_refused_at_once():
    text = "a0: &a0 [x]\n" + "".join(f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]\n" for i in range(1, 12))
    assert "alias" in fault(text)[0]


def test_places_are_those_of_code_points():
    text = "é😀: 1\nlist:\n  - name: x\n    level: 膝\n"
    found = document(text)
    span = found.values["list", 0, "level"]
    assert text[span.start : span.end] == "膝"
    assert found.place(("list", 0, "nowhere")) == found.values["list", 0]
    assert found.place(("é😀",)) == Span(0, 2)


def test_empty_file_says_nothing():
    assert document("# only a comment\n").value is None


@settings(max_examples=150, deadline=None)
@given(st.text(alphabet="ab:-[]{}&*!#'\"|>%@ \n\t0.1é", max_size=40))
def test_any_text_is_a_document_or_a_finding(text):
    assert isinstance(read_yaml(Source("a.yaml", text)), Document | Finding)


@frozen
class Inner:
    first_contact: int


@frozen
class Outer:
    name: str
    value: str | int | Fraction | None = None
    parts: tuple[Inner, ...] = ()
    by_name: dict[str, Inner] = field(factory=dict)


def structured(text: str):
    found = document(text)
    return structure(Outer, found, found.value)


def test_fields_are_keys_with_spaces():
    value, findings = structured(
        "name: x\nvalue: 2.5\nparts: [{first contact: 4}]\nby name: {a b: {first contact: 2}}\n"
    )
    assert findings == ()
    assert value == Outer("x", Fraction(5, 2), (Inner(4),), {"a b": Inner(2)})


@pytest.mark.parametrize(
    ("text", "messages"),
    [
        ("name: x\nvalue: [1]\n", ['"value" should be text, a whole number or a decimal, and is a list']),
        ("name: x\nparts: {first contact: 4}\n", ['"parts" should be a list, and is a set of keys']),
        (
            "name: x\nparts: [{first contact: soon}, 3]\n",
            ['"first contact" should be a whole number, and is "soon"', "this should have parts of its own, and is 3"],
        ),
        ("name: x\nby name: {a: {first: 4}}\n", ['"first contact" is missing here', 'nothing here is called "first"']),
        ("nam: x\n", ['"name" is missing here', 'nothing here is called "nam"']),
        ("3\n", ["this should have parts of its own, and is 3"]),
    ],
)
def test_every_fault_of_a_structure_is_named(text, messages):
    value, findings = structured(text)
    assert value is None
    assert [f.message for f in findings] == messages
    assert all(f.span is not None for f in findings)
