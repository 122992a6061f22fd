namespace PartsLedger.Domain.Jobs;

/// <summary>How far a job has come; see <see cref="JobCourse"/> for what leads from one to the next.</summary>
public enum JobState { TakenIn, Identified, TornDown, ListAccepted, Assembled, Tested, Released, CalledOff }

/// <summary>Which job is worked on first, most urgent last.</summary>
public enum JobPriority { Ordinary, Soon, Urgent }

/// <summary>What can be done with a job next.</summary>
public enum JobStep { SettleVariant, RecordFindings, AcceptList, Pull, FitPair, Check, Assemble, Test, Release, OpenAgain, CallOff }

/// <summary>What a check during assembly came to.</summary>
public enum CheckResult { Passed, Failed, Skipped }

/// <summary>What a run on the bench came to. A wrong class stops the job: the pump is not what its tag says.</summary>
public enum BenchVerdict { Passed, Failed, WrongClass }
