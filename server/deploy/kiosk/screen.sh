#!/bin/sh
# Starts the screen on a small computer behind a television, and starts it again whenever it ends.
# Needs a Chromium and a graphical session; nothing else of Hallclock has to be on this computer.
#
#   screen.sh http://192.168.1.20:8080/screen/garden
#
# The address may also stand in HALLCLOCK_SCREEN (screen.service reads it from ~/.config/hallclock-screen).
set -eu

address=${1:-${HALLCLOCK_SCREEN:-}}
if [ -z "$address" ]; then
  echo "Which address? It stands where the server was started: screen.sh http://192.168.1.20:8080/screen" >&2
  exit 2
fi
case $address in
  http://*|https://*) ;;
  *) echo "\"$address\" is no address. It begins with http:// or https://." >&2; exit 2 ;;
esac

browser=${HALLCLOCK_BROWSER:-}
for name in chromium chromium-browser google-chrome; do
  [ -n "$browser" ] || browser=$(command -v "$name" || true)
done
if [ -z "$browser" ]; then
  echo "There is no Chromium on this computer. Install the package \"chromium\", or name a browser in HALLCLOCK_BROWSER." >&2
  exit 2
fi

here=$(cd "$(dirname "$0")" && pwd)
profile=${XDG_CACHE_HOME:-$HOME/.cache}/hallclock-screen
mkdir -p "$profile"
# After a power cut Chromium would ask whether to restore its pages.
preferences=$profile/Default/Preferences
if [ -f "$preferences" ]; then
  sed -i 's/"exited_cleanly":false/"exited_cleanly":true/; s/"exit_type":"[A-Za-z]*"/"exit_type":"Normal"/' "$preferences"
fi

# The television must not go dark in the middle of a class (X11; under Wayland the desktop's own setting does it).
if [ -n "${DISPLAY:-}" ] && command -v xset >/dev/null; then
  xset s off -dpms s noblank || true
fi

# wait.html looks for the studio and goes there once it answers: no error page of the browser is ever shown.
set -- "$browser" --kiosk --user-data-dir="$profile" --no-first-run --noerrdialogs --disable-infobars \
  --disable-session-crashed-bubble --disable-features=Translate --disable-pinch --overscroll-history-navigation=0 \
  --password-store=basic --autoplay-policy=no-user-gesture-required --disable-background-timer-throttling \
  "file://$here/wait.html#$address"
# With HALLCLOCK_SHOW=yes it only says what it would start.
if [ "${HALLCLOCK_SHOW:-}" = yes ]; then
  printf '%s\n' "$@"
  exit 0
fi
if command -v systemd-inhibit >/dev/null; then
  exec systemd-inhibit --what=idle:sleep --who=Hallclock --why="The screen of the studio" "$@"
fi
exec "$@"
