#!/bin/bash
# What is written, what is never overwritten, and that a run which fails leaves the disk as it was.
set -u
coldbay=$1
folder=$(mktemp -d) || exit 1
mounted=
cleanup() {
  [ -n "$mounted" ] && umount "$mounted"
  chmod -R u+w "$folder" 2>/dev/null
  rm -rf "$folder"
}
trap cleanup EXIT
cd "$folder" || exit 1
failed=0
complain() {
  echo "$1"
  failed=1
}

cat >case.yaml <<'EOF'
title: Plate
section:
  width: 100 mm
  depth: 50 mm
  shapes:
    - {material: softwood, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}
air: {inside: {temperature: 20 °C, humidity: 50 %}, outside: {temperature: 0 °C}}
EOF
sed 's/softwood/plywood/' case.yaml >other.yaml

# Every name below a folder, hidden ones too, with a checksum of what is in it.
state() { find "$1" -printf '%P %y %l\n' | sort; find "$1" -type f -exec sha256sum {} + | sort; }

# refused WHAT WORDS FOLDER COMMAND...: must exit 5, say WORDS, and leave all of FOLDER untouched.
refused() {
  local what=$1 words=$2 where=$3 before after code message
  shift 3
  before=$(state "$where")
  message=$("$@" 2>&1 >/dev/null) # through a pipe, which no limit on file sizes reaches
  code=$?
  after=$(state "$where")
  [ $code -eq 5 ] || complain "$what: exit $code, wanted 5"
  grep -qi -- "$words" <<<"$message" || complain "$what: no '$words' in: ${message:0:300}"
  [ "$before" = "$after" ] || complain "$what: the folder changed: $(diff <(echo "$before") <(echo "$after"))"
}
mkdir bench && cp case.yaml other.yaml bench && cd bench || exit 1

# --- what is written ---
"$coldbay" predict case.yaml --out new/below/results >out.txt 2>err.txt || complain "the first run failed"
wanted="face.png materials.png result.json temperature.png"
found=$(ls -A new/below/results | tr '\n' ' ')
[ "${found% }" = "$wanted" ] || complain "wrote '$found', wanted '$wanted'"
for file in $wanted; do
  grep -q "new/below/results/$file" err.txt || complain "nobody was told of $file"
done
for picture in new/below/results/*.png; do
  [ "$(head -c 8 "$picture" | od -An -tx1 | tr -d ' ')" = 89504e470d0a1a0a ] || complain "$picture is not a PNG"
done
grep -q "U-value" out.txt || complain "no results on stdout"
if grep -q $'[\x1b\r]' err.txt out.txt; then complain "progress or colour without a terminal"; fi
if grep -q "solving" err.txt; then complain "progress without a terminal"; fi
[ "$(stat -c %a new/below/results/result.json)" = "$(printf %o $((0666 & ~$(umask))))" ] || complain "odd permissions"

# --- of a wall round whose batt air loops: with the loop and with still air, and the outer face ---
cat >loop.yaml <<'EOF'
air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}
wall:
  height: 2.4 m
  layers: [gypsum board 12.5 mm, frame, osb 11 mm]
  frame: {member: softwood 38 x 89 mm, spacing: 400 mm}
  bays: [{batt: R-13, gap: {room: 8 mm, sheathing: 8 mm, top: 8 mm, bottom: 8 mm}}]
accuracy: {U: 1 %, surface: 0.2 K}
sections: [vertical through bay 1]
EOF
"$coldbay" predict loop.yaml --out loop >/dev/null 2>&1 || complain "a wall with a loop failed"
cut=vertical-through-bay-1
wanted="result.json $cut-face.png $cut-materials.png $cut-outer-face.png $cut-temperature-still-air.png $cut-temperature.png"
found=$(ls -A loop | LC_ALL=C sort | tr '\n' ' ')
[ "${found% }" = "$wanted" ] || complain "of a loop wrote '$found', wanted '$wanted'"
rm -r loop loop.yaml

# --- again: same bytes; another case: replaced ---
first=$(state new/below/results)
"$coldbay" predict case.yaml --out new/below/results >/dev/null 2>&1 || complain "running again failed"
[ "$first" = "$(state new/below/results)" ] || complain "running again changed the results"
"$coldbay" predict other.yaml --out new/below/results/ >/dev/null 2>&1 || complain "another case was not written"
[ "$first" != "$(state new/below/results)" ] || complain "another case left the old results"
[ "$(ls -A new/below/results | wc -l)" -eq 4 ] || complain "replacing left something behind: $(ls -A new/below/results)"
rm -r new

# --- without --out nothing is written ---
before=$(state .)
"$coldbay" predict case.yaml >../out.txt 2>&1 || complain "a run without --out failed"
[ "$before" = "$(state .)" ] || complain "a run without --out wrote something"

# --- what is not ours ---
for name in result.json face.png materials.png temperature.png; do
  mkdir mine
  echo "my own" >mine/$name
  refused "a foreign $name" "$name" . "$coldbay" predict case.yaml --out mine
  rm -r mine
done
mkdir -p mine/result.json
refused "a folder named result.json" "result.json" . "$coldbay" predict case.yaml --out mine
rm -r mine
mkdir mine
ln -s nowhere mine/face.png
refused "a link to nowhere" "face.png" . "$coldbay" predict case.yaml --out mine
rm -r mine
mkdir mine
echo "my own" >mine/notes.txt
"$coldbay" predict case.yaml --out mine >/dev/null 2>&1 || complain "a folder with other files was refused"
[ "$(cat mine/notes.txt)" = "my own" ] || complain "a file of another name was changed"
rm -r mine

# --- places that cannot be written ---
echo x >file
refused "--out naming a file" "not a folder" . "$coldbay" predict case.yaml --out file
refused "--out below a file" "file" . "$coldbay" predict case.yaml --out file/below
ln -s nowhere dangling
refused "--out naming a link to nowhere" "dangling" . "$coldbay" predict case.yaml --out dangling
refused "--out in /proc" "proc" . "$coldbay" predict case.yaml --out /proc/coldbay-results
refused "a name that is too long" "long" . "$coldbay" predict case.yaml --out "deep/$(head -c 300 /dev/zero | tr '\0' x)"
if [ "$(id -u)" -ne 0 ]; then # root may write anywhere
  mkdir locked && chmod 555 locked
  refused "a folder without permission" "denied" . "$coldbay" predict case.yaml --out locked
  refused "a new folder without permission" "denied" . "$coldbay" predict case.yaml --out locked/below
fi
(
  mkdir gone && cd gone && rmdir ../gone || exit 1
  "$coldbay" predict ../bench/case.yaml --out results >/dev/null 2>&1
  [ $? -ne 134 ]
) || complain "a crash where the current folder is gone"

# --- a full disk ---
limited() { (ulimit -f "$1" && shift && "$@"); }
for blocks in 0 1 4 12; do # of 1 kB, less than the pictures take
  refused "files limited to $blocks kB" "large" . limited $blocks "$coldbay" predict case.yaml --out new/results
done
mkdir small
if mount -t tmpfs -o size=16k tmpfs small 2>/dev/null; then
  mounted=$folder/bench/small
  refused "a full disk" "space" small "$coldbay" predict case.yaml --out small/results
  refused "a full disk, straight into it" "space" small "$coldbay" predict case.yaml --out small
  umount "$mounted" && mounted=
else
  echo "note: no tmpfs can be mounted here, so a full disk is only tried by a limit on file sizes"
fi

exit $failed
