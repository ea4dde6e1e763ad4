/** Minutes on the present test, measured from when its tag was first shown. */
import { keep, keptValue } from "./app-kept";

interface Running {
  job: string;
  test: string;
  from: number;
}

const LONGEST_MIN = 240;
const MINUTE_MS = 60_000;

const isRunning = (value: unknown): value is Running => typeof value === "object" && value !== null && "test" in value && "from" in value && "job" in value;

/** When this test was first shown on this job; starts the clock where it was another one. */
export function startedAt(job: string, test: string): number {
  const running = keptValue("clock", isRunning);
  if (running && running.test === test && running.job === job) return running.from;
  const from = Date.now();
  keep("clock", { job, test, from });
  return from;
}

/** A question that became a case goes on under the case's name. */
export function renameClock(job: string, caseId: string): void {
  const running = keptValue("clock", isRunning);
  if (running && running.job === job) keep("clock", { ...running, job: caseId });
}

/** Whole minutes on this test, null where it was not the one on the tag or was left lying for hours. */
export function stopClock(job: string, test: string): number | null {
  const running = keptValue("clock", isRunning);
  if (!running || running.test !== test || running.job !== job) return null;
  const minutes = (Date.now() - running.from) / MINUTE_MS;
  return minutes > LONGEST_MIN ? null : Math.max(1, Math.round(minutes));
}
