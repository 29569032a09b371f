#!/bin/sh
# Installs a Visual Studio Code that runs in a browser, from its package, into a folder: sh code-server.sh FOLDER
# It does nothing where it has done so before. Its parts in C++ are built here, those alone that it does not start without.
set -eu

version=4.100.0
folder=$1
done=$folder/done-$version
if [ -e "$done" ]; then exit 0; fi

rm -rf "$folder"
mkdir -p "$folder"
cd "$folder"
quietly() {
  if ! "$@" >>"$folder/install.log" 2>&1; then
    tail -n 30 "$folder/install.log" >&2
    exit 1
  fi
}
install() { quietly npm install --ignore-scripts --no-audit --no-fund --no-progress "$@"; }

printf '{ "private": true }\n' >package.json
install "code-server@$version" node-gyp@11.4.2
vscode=$folder/node_modules/code-server/lib/vscode
for part in "$vscode" "$vscode/extensions"; do
  cd "$part"
  install --omit=dev
done

# The headers of the very node that runs it, where it brings them along; else they are fetched.
headers=$(node -p 'require("path").dirname(require("path").dirname(process.execPath))')
if [ ! -e "$headers/include/node/node.h" ]; then headers=; fi
compile() {
  cd "$1"
  shift
  quietly node "$folder/node_modules/node-gyp/bin/node-gyp.js" rebuild --jobs 2 ${headers:+"--nodedir=$headers"} "$@"
}
compile "$vscode/node_modules/@vscode/spdlog"
compile "$vscode/node_modules/node-pty"
compile "$vscode/node_modules/native-watchdog"
argon2=$folder/node_modules/argon2
compile "$argon2" "--module_path=$argon2/lib/binding/napi-v3" --module_name=argon2 --napi_version=9 --napi_build_version=3
ln -s node_modules "$vscode/node_modules.asar"
touch "$done"
