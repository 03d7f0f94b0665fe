#!/bin/bash
# `coldbay start`: a case to change, which never takes the place of a file.
set -u
coldbay=$1 root=$2
folder=$(mktemp -d) || exit 1
trap 'chmod -R u+w "$folder"; rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0
complain() {
  echo "$1"
  failed=1
}

# expect CODE WORDS COMMAND...: its exit code, and words that it says.
expect() {
  local wanted=$1 words=$2 code said
  shift 2
  said=$("$@" 2>&1 </dev/null)
  code=$?
  [ $code -eq "$wanted" ] || complain "exit $code, wanted $wanted: $*: ${said:0:300}"
  grep -qF -- "$words" <<<"$said" || complain "no '$words' from $*: ${said:0:300}"
}

# --- the list: every file of the folder, a line each ---
for file in "$root"/cases/starters/*.yaml; do
  name=$(basename "$file" .yaml)
  expect 0 "$(head -1 "$file" | cut -c3-)" "$coldbay" start
  "$coldbay" start | grep -q "^$name  *A " || complain "$name is not listed"
done
expect 0 "coldbay start NAME" "$coldbay" start
[ -z "$(ls -A)" ] || complain "the list wrote something: $(ls -A)"

# --- every one is written as it stands, is sound, and its next command works ---
for file in "$root"/cases/starters/*.yaml; do
  name=$(basename "$file" .yaml)
  expect 0 "next: coldbay predict $name.yaml --out forecast" "$coldbay" start "$name"
  cmp "$file" "$name.yaml" || complain "$name.yaml is not the starter"
  expect 0 "no errors" "$coldbay" check "$name.yaml"
done
[ "$(stat -c %a 2x4-at-16.yaml)" = "$(printf %o $((0666 & ~$(umask))))" ] || complain "odd permissions"
expect 0 "wrote new/below/mine.yaml" "$coldbay" start 2x4-at-16 --out new/below/mine.yaml
expect 0 "next: coldbay predict 'new/my wall.yaml'" "$coldbay" start 2x4-at-16 --out "new/my wall.yaml"

# --- never over a file ---
echo "my own" >mine.yaml
ln -s nowhere dangling.yaml
before=$(ls -lR --time-style=full-iso; cat mine.yaml)
expect 5 "is there already, and was left as it is" "$coldbay" start 2x4-at-16
expect 5 "another name with --out FILE" "$coldbay" start 2x4-at-16 --out mine.yaml
expect 5 "dangling.yaml" "$coldbay" start 2x4-at-16 --out dangling.yaml
expect 5 "name a file in it" "$coldbay" start 2x4-at-16 --out new
expect 5 "mine.yaml" "$coldbay" start 2x4-at-16 --out mine.yaml/below.yaml
expect 5 "proc" "$coldbay" start 2x4-at-16 --out /proc/coldbay-start.yaml
limited() { (ulimit -f 0 && "$@"); }
expect 5 "large" limited "$coldbay" start 2x4-at-16 --out other.yaml
if [ "$(id -u)" -ne 0 ]; then # root may write anywhere
  mkdir locked && chmod 555 locked
  expect 5 "denied" "$coldbay" start 2x4-at-16 --out locked/mine.yaml
  rmdir locked
fi
# Ten at once: one of them makes the file, the others are refused.
for _ in $(seq 10); do ("$coldbay" start 2x4-at-16 --out race.yaml >/dev/null 2>&1 && echo won >>won) & done
wait
[ "$(wc -l <won)" -eq 1 ] || complain "$(wc -l <won) of ten made the same file"
cmp "$root/cases/starters/2x4-at-16.yaml" race.yaml || complain "race.yaml is not the starter"
rm -f won race.yaml
[ "$before" = "$(ls -lR --time-style=full-iso; cat mine.yaml)" ] || complain "a refusal changed the folder: $(ls -lR)"

# --- slips ---
expect 2 "the nearest is '2x4-at-16'" "$coldbay" start 2x4-at-15
expect 2 "'coldbay start' lists all" "$coldbay" start log-cabin
expect 2 "NAME" "$coldbay" start --out mine.yaml
expect 2 "the file has no name" "$coldbay" start 2x4-at-16 --out ""

exit $failed
