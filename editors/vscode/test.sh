#!/bin/sh
# Packs the extension and tests it: alone, then in a real editor that runs in a Chromium without a window. Installs what is
# missing, but for node 20, a C++ compiler, python3, make and chromium. Builds the program first, unless TRUG names one;
# what was seen is in target/editors/pictures.
set -eu

here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
place=$root/target/editors
if [ -z "${TRUG:-}" ]; then
  cd "$root"
  cargo build --locked --package trug
  TRUG=${CARGO_TARGET_DIR:-target}/debug/trug
fi
TRUG=$(cd "$(dirname "$TRUG")" && pwd)/$(basename "$TRUG")
CHROMIUM=${CHROMIUM:-$(command -v chromium || command -v chromium-browser || true)}
if [ ! -x "$TRUG" ]; then
  echo "there is no program at $TRUG" >&2
  exit 2
fi
if [ -z "$CHROMIUM" ]; then
  echo "there is no chromium: install it, or name it in CHROMIUM" >&2
  exit 2
fi

cd "$here"
if ! cmp -s package-lock.json node_modules/.trug-lock; then
  npm ci --no-progress
  cp package-lock.json node_modules/.trug-lock
fi
mkdir -p "$place"
npm run --silent package
npm test
# The same files make the same bytes.
node package.mjs "$place/again.vsix" >/dev/null
cmp trug.vsix "$place/again.vsix"

sh test/code-server.sh "$place/code-server"
export TRUG CHROMIUM
in_editor() {
  VSIX=$here/trug.vsix CODE_SERVER=$place/code-server/node_modules/code-server/out/node/entry.js PICTURES=$place/pictures \
    node test/real/main.mjs
}
# On a loaded machine an editor in a browser has lost every click on a lens for a minute, once in some fifty runs: what
# fails is tried again in a fresh editor, and has to pass there.
if ! in_editor; then
  echo "once more, in a fresh editor"
  in_editor
fi
