# Shared by tools/run, tools/test and .ci/run: sourced, never run by itself.
# shellcheck shell=bash

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
# shellcheck disable=SC2034 # of the scripts that source this
jobs=${CMAKE_BUILD_PARALLEL_LEVEL:-$(nproc)}

# What was compiled in one folder serves a clone in another, precompiled headers included.
export CCACHE_BASEDIR=$root CCACHE_NOHASHDIR=1 CCACHE_SLOPPINESS=pch_defines,time_macros

say() { printf '== %s\n' "$*"; }

die() {
  printf '%s: error: %s\n' "${0##*/}" "$*" >&2
  exit 2
}

# Runs a command as root: as it is, or through sudo.
asRoot() {
  if [ "$(id -u)" -eq 0 ]; then
    "$@"
  else
    sudo "$@"
  fi
}

# ensurePackages GROUP...: installs what tools/cmake/packages.txt lists for the groups and is missing.
# With nothing missing it needs neither root nor a network.
ensurePackages() {
  command -v dpkg-query >/dev/null || die "needs Debian 12 (dpkg-query is not there)"
  local group package missing=()
  for group in "$@"; do
    while read -r package; do
      if ! dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null | grep -qx installed; then
        missing+=("$package")
      fi
    done < <(awk -v group="$group" '$1 == group { print $2 }' "$root/tools/cmake/packages.txt")
  done
  [ "${#missing[@]}" -gt 0 ] || return 0
  say "installing ${missing[*]}"
  if [ "$(id -u)" -ne 0 ] && ! command -v sudo >/dev/null; then
    die "not root and no sudo; install by hand: apt-get install ${missing[*]}"
  fi
  asRoot apt-get update -q </dev/null
  asRoot env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends \
    "${missing[@]}" </dev/null
}

# Node and its package manager, from Debian unless some are there.
ensureNpm() {
  if ! command -v npm >/dev/null; then
    say "installing nodejs npm"
    asRoot apt-get update -q </dev/null
    asRoot env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends \
      nodejs npm </dev/null
  fi
}

# configure NAME SWITCH...: prepares build/NAME. Quiet unless it fails.
configure() {
  local name=$1 log
  shift
  say "configuring build/$name"
  mkdir -p "$root/build/$name"
  log=$root/build/$name/configure.log
  if ! cmake -S "$root" -B "$root/build/$name" -G Ninja -DCMAKE_CXX_COMPILER_LAUNCHER=ccache \
    "$@" >"$log" 2>&1 </dev/null; then
    cat "$log" >&2
    return 1
  fi
  grep 'is not there: ' "$log" || true  # what the build has to do without
}

# build NAME [TARGET...]
build() {
  local name=$1
  shift
  say "building build/$name${1:+: $*}"
  cmake --build "$root/build/$name" --parallel "$jobs" ${1:+--target "$@"} </dev/null
}
