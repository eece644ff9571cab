#!/bin/sh
# Run once by the database's container, in an empty folder: an ordinary user, whom row security holds, and its database.
set -e
psql -v ON_ERROR_STOP=1 -v password="$DATABASE_PASSWORD" --username "$POSTGRES_USER" --dbname postgres <<'SQL'
CREATE ROLE hallclock LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOBYPASSRLS PASSWORD :'password';
CREATE DATABASE hallclock OWNER hallclock;
SQL
