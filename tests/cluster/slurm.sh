#!/usr/bin/env bash
# Places shared out as a Slurm job array: daemons of the test's own on this machine, stopped by their
# process ids. Slurm wants root and munge.
. "$(dirname "$0")/places.sh"
need sbatch munged runuser split
slurmctld=$(command -v slurmctld || echo /usr/sbin/slurmctld)
slurmd=$(command -v slurmd || echo /usr/sbin/slurmd)
[ -x "$slurmctld" ] && [ -x "$slurmd" ] || skip "Slurm's daemons are not installed"
[ "$(id -u)" = 0 ] || skip "Slurm's daemons start only as root"
[ -r /etc/munge/munge.key ] || skip "munge has no key"

chmod 755 "$scratch"
mkdir "$scratch/munge" "$scratch/state" "$scratch/spool"
chown munge: "$scratch/munge"
socket=$scratch/munge/socket
pids=()
cleanup() {
    for ((i = ${#pids[@]} - 1; i >= 0; --i)); do
        kill "${pids[i]}" 2>/dev/null || true
        wait "${pids[i]}" 2>/dev/null || true
    done
    rm -rf "$scratch"
}
runuser -u munge -- munged --foreground --socket "$socket" --pid-file "$scratch/munge/pid" \
    --log-file "$scratch/munge/log" --seed-file "$scratch/munge/seed" >"$scratch/munge.out" 2>&1 &
pids+=($!)
node=$(hostname -s)
port=$((21000 + $$ % 20000))
cat >"$scratch/slurm.conf" <<EOF
ClusterName=test
SlurmctldHost=$node(127.0.0.1)
SlurmctldPort=$port
SlurmdPort=$((port + 1))
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
AuthInfo=socket=$socket
CredType=cred/munge
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
SelectType=select/cons_tres
SchedulerParameters=sched_interval=1,batch_sched_delay=0
StateSaveLocation=$scratch/state
SlurmdSpoolDir=$scratch/spool
SlurmctldPidFile=$scratch/slurmctld.pid
SlurmdPidFile=$scratch/slurmd.pid
SlurmctldLogFile=$scratch/slurmctld.log
SlurmdLogFile=$scratch/slurmd.log
ReturnToService=2
NodeName=$node NodeAddr=127.0.0.1 CPUs=$(nproc) RealMemory=500 State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES
EOF
export SLURM_CONF=$scratch/slurm.conf
"$slurmctld" -D >"$scratch/slurmctld.out" 2>&1 &
pids+=($!)
"$slurmd" -D -N "$node" >"$scratch/slurmd.out" 2>&1 &
pids+=($!)
for attempt in $(seq 100); do
    if sinfo -h -o %T 2>/dev/null | grep -q idle; then break; fi
    if [ "$attempt" = 100 ]; then
        tail -n 3 "$scratch"/*.out "$scratch"/slurm*.log || true
        skip "Slurm does not start here"
    fi
    sleep 0.2
done

# As the manual has it: each task takes its quarter of the lines; the parts are put together in order.
of_topic 3 | sed '/^#SBATCH/a #SBATCH --output=/dev/null' >"$scratch/job.sh"
grep -q 'array=0-3' "$scratch/job.sh"
job=$(sbatch --parsable --chdir "$scratch" "$scratch/job.sh")
# --wait would ask only every ten seconds.
for attempt in $(seq 300); do
    if [ -z "$(squeue -h -j "$job" 2>/dev/null)" ]; then break; fi
    [ "$attempt" = 300 ] && { echo "the job does not end" >&2; exit 1; }
    sleep 0.2
done
cat "$scratch"/part.{0..3} >"$scratch/array.json"
same "$scratch/array.json" "a Slurm job array of four"
