#!/bin/sh
# Makes the broker's accounts from the environment at every start, so that a changed password holds after a restart, and
# becomes the broker, so that it gets the signals. Accounts that were added otherwise stay:
#   docker compose exec broker mosquitto_passwd /mosquitto/data/passwords NAME && docker compose kill -s HUP broker
set -eu
umask 077
data=/mosquitto/data
given=$(mktemp)
kept=$data/passwords.new

account() {
  # Such a password stands in an address (RFC 3986, section 2.3: unreserved) as it is.
  case $3 in
    '') echo "$2 is empty: takes a password of letters, digits and - . _ ~" >&2; exit 1 ;;
    *[!A-Za-z0-9._~-]*) echo "$2: takes letters, digits and - . _ ~ only" >&2; exit 1 ;;
  esac
  echo "$1:$3" >>"$given"
}
account seamwarden BROKER_SERVICE_PASSWORD "${BROKER_SERVICE_PASSWORD:-}"
account carriages BROKER_CARRIAGES_PASSWORD "${BROKER_CARRIAGES_PASSWORD:-}"

# Hashed in place: as arguments the passwords would stand in the list of processes.
mosquitto_passwd -U "$given"
touch "$data/passwords"
# grep ends with 1 where there are no other accounts.
grep -v -e '^seamwarden:' -e '^carriages:' "$data/passwords" >"$kept" || true
cat "$given" >>"$kept"
mv "$kept" "$data/passwords"
rm "$given"
# A copy, because the broker wants to be the only one who may read it.
cat /mosquitto/config/accounts.acl >"$data/accounts.acl"
exec mosquitto -c /mosquitto/config/mosquitto.conf
