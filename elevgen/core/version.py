"""The version of this program, as drawings and results name it."""

VERSION = "0.1.0"
