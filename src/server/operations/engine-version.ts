// Version of everything that makes numbers. Raise it when a stored result would come out differently: a job makes them again.
export const ENGINE_VERSION = "2";
