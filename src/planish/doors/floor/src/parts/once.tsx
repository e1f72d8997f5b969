// A passphrase or card code that is told once: shown large, printable, gone when the page is left.
import type { SecretOnce } from "../api/client";

export function Once({ of, what }: { of: SecretOnce | undefined; what: string }) {
  if (!of) return null;
  return (
    <div class="note once" role="status">
      <p>
        {what} for <strong>{of.who}</strong>, told this once:
      </p>
      <p class="secret">{of.secret}</p>
      <p class="quiet">Write it down or print this page now. It is kept only as a digest and cannot be shown again.</p>
    </div>
  );
}
