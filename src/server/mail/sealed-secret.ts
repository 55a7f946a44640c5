// Passwords of mail servers must be readable again, so they are sealed, not hashed: AES-256-GCM (NIST SP 800-38D) with a
// key that never enters the database, so that neither a backup nor a stolen database file gives the password away.
import { createCipheriv, createDecipheriv, createHash, randomBytes } from "node:crypto";
import { chmodSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const CIPHER = "aes-256-gcm";
const KEY_BYTES = 32;
const NONCE_BYTES = 12;
const TAG_BYTES = 16;
const KEY_FILE = "mail.key";

export interface SecretBox {
  /** `about` is bound in: a sealed text moved to another row does not open. */
  seal(text: string, about: string): string;
  /** undefined when it was sealed with another key, about something else, or was changed. */
  open(sealed: string, about: string): string | undefined;
}

/** `keyText` (at least 16 characters, from the environment, where several servers share a database), else a file of the data folder. */
export function createSecretBox(dataDir: string, keyText?: string): SecretBox {
  const key = (): Buffer => (keyText === undefined ? keyOfFolder(dataDir) : keyOfText(keyText));
  return {
    seal(text, about) {
      const nonce = randomBytes(NONCE_BYTES);
      const cipher = createCipheriv(CIPHER, key(), nonce).setAAD(Buffer.from(about, "utf8"));
      const body = Buffer.concat([cipher.update(text, "utf8"), cipher.final()]);
      return Buffer.concat([nonce, cipher.getAuthTag(), body]).toString("base64url");
    },
    open(sealed, about) {
      const bytes = Buffer.from(sealed, "base64url");
      if (bytes.length < NONCE_BYTES + TAG_BYTES) return undefined;
      const nonce = bytes.subarray(0, NONCE_BYTES);
      const tag = bytes.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES);
      try {
        const cipher = createDecipheriv(CIPHER, key(), nonce, { authTagLength: TAG_BYTES })
          .setAAD(Buffer.from(about, "utf8"))
          .setAuthTag(tag);
        return cipher.update(bytes.subarray(NONCE_BYTES + TAG_BYTES), undefined, "utf8") + cipher.final("utf8");
      } catch {
        return undefined;
      }
    },
  };
}

function keyOfText(text: string): Buffer {
  if (text.length < 16) throw new RangeError("createSecretBox: the mail key must have at least 16 characters");
  return createHash("sha256").update(`spondee mail key\n${text}`).digest();
}

/** Made at the first need, readable by its owner only. */
function keyOfFolder(dataDir: string): Buffer {
  const file = join(dataDir, KEY_FILE);
  if (!existsSync(file)) {
    try {
      writeFileSync(file, randomBytes(KEY_BYTES), { mode: 0o600, flag: "wx" });
    } catch (error) {
      // Another request made it first.
      if (!existsSync(file)) throw error;
    }
  }
  chmodSync(file, 0o600);
  return createHash("sha256").update(readFileSync(file)).digest();
}
