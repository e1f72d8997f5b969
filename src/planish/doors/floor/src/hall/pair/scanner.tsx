// The live scanner, where the browser has one of its own. Elsewhere the tablet's camera app opens the link of the code.
import { useEffect, useRef, useState } from "preact/hooks";

interface Found {
  rawValue: string;
}
type Detector = new (of: { formats: string[] }) => { detect: (video: HTMLVideoElement) => Promise<Found[]> };
const detector = () => (globalThis as unknown as { BarcodeDetector?: Detector }).BarcodeDetector;

/** The code behind the link `…/pair#CODE`, or the bare code. */
export const codeOf = (text: string): string => text.split("#").at(-1)?.trim() ?? "";

export function Scanner({ then }: { then: (code: string) => void }) {
  const [on, turn] = useState(false);
  if (!detector() || !navigator.mediaDevices) return <p class="quiet">This browser has no scanner. Open the tablet's camera, point it at the code and open the link, or type it.</p>;
  return on ? <Live then={then} /> : <button type="button" class="plain wide" onClick={() => turn(true)}>Scan the code</button>;
}

function Live({ then }: { then: (code: string) => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const [wrong, setWrong] = useState("");
  useEffect(() => {
    let stream: MediaStream | undefined;
    let timer = 0;
    const begin = async () => {
      const Seen = detector();
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
      if (!video.current || !Seen) return;
      video.current.srcObject = stream;
      await video.current.play();
      const looking = new Seen({ formats: ["qr_code"] });
      timer = window.setInterval(async () => {
        const found = video.current ? await looking.detect(video.current).catch(() => []) : [];
        if (found[0]) {
          clearInterval(timer);
          then(codeOf(found[0].rawValue));
        }
      }, 300);
    };
    void begin().catch(() => setWrong("The camera does not open. Type the code."));
    return () => {
      clearInterval(timer);
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
  }, []);
  return wrong ? <p class="warn">{wrong}</p> : <video ref={video} muted playsInline class="scan" aria-label="What the camera sees" />;
}
