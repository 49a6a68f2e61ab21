"""Adapter: the day kept in a database through SQLAlchemy. Knows no HTTP and no rule of the trade.

database.py how reads and writes begin; tables.py what is kept; edits.py the log and its marks;
crew.py devices and invitations; backup.py copies that can be trusted; migrations/ how old
databases become new ones.
"""
