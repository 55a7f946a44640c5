// What the command line may use.
export { createApp } from "./app/create-app.ts";
export { backupFolder, restoreDatabase, restoreFolder, checkIntegrity, moveData } from "./operations/data-folder.ts";
export { BindRefusedError } from "./operations/bind-rules.ts";
export { openServerStore, type RunningServer, type ServeOptions, StartError, startServer } from "./start-server.ts";
export { type OwnHttps, prepareOwnHttps } from "./https/own-https.ts";
export { readOwnNames } from "./https/own-names.ts";
export { serveTrustPage } from "./https/trust-page.ts";
export { seedDemoData } from "./demo/seed-data-folder.ts";
