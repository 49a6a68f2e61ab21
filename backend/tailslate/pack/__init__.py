"""Adapter: the day on paper and in a spreadsheet. Lays out what the rules say, and works nothing out itself.

whole_day.py (all of a day, read at once), call_card.py, day_pack.py and day_report.py (what is printed, as blocks),
paper.py and paper.typ (blocks -> PDF), cells.py and tables.py (CSV), commands.py (at a desk).
"""
