namespace PartsLedger.Domain.Access;

/// <summary>With what somebody shows who they are; wrong tries are counted for each by itself.</summary>
public enum SignInMeans { Password, SecondFactor, Badge }
