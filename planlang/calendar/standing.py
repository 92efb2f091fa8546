"""Another name, until every command asks where the texts are now."""

from planlang.planning.telling.standing import SUPPORTS as SUPPORTS
from planlang.planning.telling.standing import Contacts as Contacts
