"""Files on disk: TOML to records and back, whole or not at all.

Nothing here decides anything about the work: it reads, checks, writes and says what is wrong with a file.
"""
