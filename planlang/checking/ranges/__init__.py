"""Every rule for every value of every blank of a template: proved where it can be, else searched and said so."""
