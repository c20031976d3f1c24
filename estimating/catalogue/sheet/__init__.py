"""The catalogue as one table, in CSV and XLSX: its columns, how a file is read, how it is written."""
