# packages.sh - the one list of Debian packages, and how a missing one is installed.  Sourced by app/run.sh and tests/run.sh.
# SPDX-License-Identifier: GPL-3.0-or-later

# to build and run
packages_run='gcc libc6-dev meson ninja-build pkgconf gettext libglib2.0-dev libgtk-4-dev libgdk-pixbuf-2.0-dev libxml2-dev libcsv-dev
  libopenblas-pthread-dev libsuitesparse-dev libsodium-dev libqrencode-dev adwaita-icon-theme fonts-noto-core gsettings-desktop-schemas'
# to test as well: second compiler with its sanitizers, a screen without a monitor, tools that look at what was written
packages_test='clang libclang-rt-14-dev clang-format-14 xvfb xauth dbus dbus-x11 xdotool python3 openbox picom at-spi2-core python3-pyatspi imagemagick
  libxml2-utils poppler-utils desktop-file-utils appstream locales libgl1-mesa-dri git ca-certificates calculix-ccx qpdf zbar-tools parallel openssl'

# need_packages NAME... : installs those that are missing; a clear message when that is not allowed.
need_packages() {
  missing=
  for package in "$@"; do
    case $(dpkg-query -W -f '${Status}' "$package" 2>/dev/null) in
      *' installed') ;;
      *) missing="$missing $package" ;;
    esac
  done
  [ -n "$missing" ] || return 0
  if ! command -v apt-get >/dev/null; then
    echo "Soffit needs these packages (Debian names), and this system has no apt-get:$missing" >&2
    exit 2
  fi
  as_root=
  if [ "$(id -u)" -ne 0 ]; then
    as_root=sudo
    if ! command -v sudo >/dev/null || ! sudo -n true 2>/dev/null && ! [ -t 0 ]; then
      echo "Soffit needs these packages; ask your administrator for: apt-get install$missing" >&2
      exit 2
    fi
  fi
  echo "Installing what is missing:$missing"
  $as_root env DEBIAN_FRONTEND=noninteractive sh -c "apt-get update -q && apt-get install -q -y --no-install-recommends $missing" >/tmp/soffit-packages.$$ 2>&1 || {
    tail -n 5 /tmp/soffit-packages.$$ >&2
    echo "The packages could not be installed. Check the network and try: apt-get install$missing" >&2
    exit 2
  }
  rm -f /tmp/soffit-packages.$$
}
