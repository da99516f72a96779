"""The manager's page: a program of its own behind a login. The only part of the faces that may know costs."""
