"""How days and times are written: the month as a word, so that nobody swaps it."""

DATE_FORMAT = "j M Y"
DATETIME_FORMAT = "j M Y, H:i"
MONTH_DAY_FORMAT = "j M"
TIME_FORMAT = "H:i"
