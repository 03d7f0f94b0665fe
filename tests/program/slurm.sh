#!/bin/bash
# A study as a job array of a real Slurm: one node on this machine, started here with a configuration of its own and stopped
# again. Its shares, one of them killed half-way and submitted again, give the bytes of one uninterrupted run.
# Skipped (77) where Slurm is not installed (Debian: slurm-wlm, munge).
set -u
coldbay=$1 root=$2
PATH=$PATH:/usr/sbin:/sbin
for program in slurmctld slurmd sbatch munged; do
  command -v $program >/dev/null || { echo "no $program: skipped"; exit 77; }
done
folder=$(mktemp -d) || exit 1
daemons=()
end() {
  [ ${#daemons[@]} -eq 0 ] || kill "${daemons[@]}" 2>/dev/null
  wait 2>/dev/null
  rm -rf "$folder"
}
trap end EXIT
cd "$folder" || exit 1
failed=0
fail() {
  echo "$1"
  failed=1
}

# 1. One node.
user=$(id -un) node=$(hostname -s)
port=$((20000 + $$ % 20000)) # away from other runs of this test on one machine
mkdir -m 700 state spool key
dd if=/dev/urandom of=key/munge.key bs=1 count=1024 status=none
chmod 600 key/munge.key
cat >slurm.conf <<END
ClusterName=coldbay
SlurmctldHost=$node(127.0.0.1)
SlurmctldPort=$port
SlurmdPort=$((port + 1))
SlurmUser=$user
SlurmdUser=$user
AuthType=auth/munge
AuthInfo=socket=$folder/key/socket
CredType=cred/munge
StateSaveLocation=$folder/state
SlurmdSpoolDir=$folder/spool
SlurmctldPidFile=$folder/slurmctld.pid
SlurmdPidFile=$folder/slurmd.pid
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
SwitchType=switch/none
MpiDefault=none
ReturnToService=2
KillWait=2
SchedulerParameters=batch_sched_delay=0,sched_interval=1
NodeName=$node NodeAddr=127.0.0.1 CPUs=2 State=UNKNOWN
PartitionName=walls Nodes=$node Default=YES MaxTime=INFINITE State=UP
END
export SLURM_CONF=$folder/slurm.conf
munged --foreground --force --key-file="$folder/key/munge.key" --socket="$folder/key/socket" --pid-file="$folder/key/pid" \
  --log-file="$folder/key/log" --seed-file="$folder/key/seed" >munged.log 2>&1 &
daemons+=($!)
slurmctld -D >slurmctld.log 2>&1 &
daemons+=($!)
slurmd -D >slurmd.log 2>&1 &
daemons+=($!)
up=no
for _ in $(seq 100); do
  sinfo -h -o %T 2>/dev/null | grep -q idle && up=yes && break
  sleep 0.2
done
if [ $up = no ]; then
  echo "Slurm is installed, but no node comes up here: skipped"
  tail -n 5 munged.log slurmctld.log slurmd.log
  exit 77
fi

# 2. A study, whole, on this machine.
cp "$root/tests/program/slab.yaml" .
cat >study.yaml <<'END'
title: Slabs
base: slab.yaml
vary:
  - {path: "section.shapes[1].material.conductivity", normal: {mean: 0.5 W/mK, deviation: 0.1 W/mK, from: 0.2 W/mK}}
  - {path: "section.shapes[2].material.conductivity", uniform: {from: 0.03 W/mK, to: 0.05 W/mK}}
draws: 3000
seed: 11
keep: [U, coldest surface]
END
"$coldbay" study study.yaml --out whole >/dev/null 2>&1 || fail "the whole study failed"

# 3. As an array of six, in a folder that every node would see; one task is killed while it runs.
submit() { COLDBAY=$coldbay sbatch --parsable --output="$folder/task-%a.log" "$@" "$root/tools/study-array.sbatch" study.yaml runs; }
ended() { # of a job: waits until none of its tasks is left
  for _ in $(seq 300); do
    [ -z "$(squeue -h -j "$1" 2>/dev/null)" ] && return
    sleep 0.2
  done
  fail "job $1 has not ended: $(squeue)"
}
job=$(submit --array=1-6) || fail "sbatch refused the array"
for _ in $(seq 400); do # killed once it has something to lose
  [ -n "$(cat runs/share-2/parts/*.rows 2>/dev/null | head -1)" ] && break
  sleep 0.02
done
scancel --signal=KILL "${job}_2" || fail "no task 2 to kill"
ended "$job"
for i in 1 3 4 5 6; do
  [ "$(wc -l <runs/share-$i/results.csv)" -eq 501 ] || fail "share $i: $(cat task-$i.log)"
done
[ -e runs/share-2/results.csv ] && fail "share 2 was done before it was killed: a smaller study than this test needs"
"$coldbay" collect runs/share-* --out runs/all >out 2>err
[ $? -eq 4 ] || fail "a share was killed, and collect calls the study whole"
grep -q "^missing: [0-9]* variants: " err || fail "what the killed share had not solved is not told: $(cat err)"
kept=$(($(wc -l <runs/all/results.csv) - 1))
[ "$kept" -gt 2500 ] || fail "nothing is left of what the killed share had solved: $kept rows"

# 4. Submitted again by the same line.
job=$(submit --array=1-6)
ended "$job"
"$coldbay" collect runs/share-* --out runs/all >out 2>err || fail "not whole after it was submitted again: $(cat err)"
cmp whole/results.csv runs/all/results.csv || fail "other results than on one machine"
cmp whole/results.json runs/all/results.json || fail "other results than on one machine"

# 5. An array that is no numbering of shares is refused, and one variant is a task just as well.
job=$(submit --array=2-3)
ended "$job"
grep -q "must be 1-N without gaps" task-2.log || fail "an array of 2-3 is taken for shares: $(cat task-2.log)"
job=$(sbatch --parsable --array=17,400 --output=/dev/null --wrap "'$coldbay' study study.yaml --out one-\$SLURM_ARRAY_TASK_ID --case \$SLURM_ARRAY_TASK_ID")
ended "$job"
for id in 17 400; do
  cmp <(sed -n 2p one-$id/results.csv) <(sed -n $((id + 2))p whole/results.csv) || fail "variant $id as a task of its own differs"
done
exit $failed
