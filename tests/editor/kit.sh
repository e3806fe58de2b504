#!/usr/bin/env bash
# Makes the kit of the editor tests in a folder: a real editor, a browser to drive it, and two other editors. Debian, as root or with
# sudo. What is there already is kept.
#   tests/editor/kit.sh FOLDER
set -euo pipefail
folder=${1:?usage: tests/editor/kit.sh FOLDER}

programs=(chromium nvim emacs)
packages=(chromium neovim emacs-nox elpa-eglot g++ make python3 pkg-config libkrb5-dev libx11-dev libxkbfile-dev libsecret-1-dev)
missing=()
for program in "${programs[@]}"; do command -v "$program" >/dev/null || missing+=("$program"); done
if [ "${#missing[@]}" -gt 0 ] || [ ! -d "$folder/node_modules/code-server" ]; then
  root=()
  [ "$(id -u)" = 0 ] || root=(sudo)
  "${root[@]}" apt-get update -qq
  DEBIAN_FRONTEND=noninteractive "${root[@]}" apt-get install -y -qq --no-install-recommends "${packages[@]}" >/dev/null
fi

mkdir -p "$folder"
cd "$folder"
[ -f package.json ] || echo '{ "private": true }' > package.json
# The editor builds its native parts with the Node that runs it: so that comes first.
[ -x node_modules/node/bin/node ] || npm install --no-audit --no-fund --silent node@24 playwright-core@1
export PATH="$PWD/node_modules/node/bin:$PWD/node_modules/.bin:$PATH"
[ -d node_modules/code-server/out ] || npm install --no-audit --no-fund --silent code-server@4.139.1
test -f node_modules/code-server/out/node/entry.js
