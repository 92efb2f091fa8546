"""Source text and places in it, the one finding type, words for people, where data files are."""
