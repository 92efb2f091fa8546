"""Another name, until every command asks where the texts are now."""

from planlang.planning.telling.telling import Contacts as Contacts
