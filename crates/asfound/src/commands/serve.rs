//! `serve`: the pages, on this machine's own address.

use std::net::Ipv4Addr;
use std::path::Path;
use std::sync::Arc;

use asfound_acts::Workshop;
use tokio::net::TcpListener;

use crate::failure::Failure;
use crate::print;

pub(crate) fn run(folder: &Path, port: u16) -> Result<(), Failure> {
    serve(Workshop::open(folder)?, port)
}

/// Serves an open workshop until the program is asked to stop.
pub(crate) fn serve(workshop: Workshop, port: u16) -> Result<(), Failure> {
    let runtime = tokio::runtime::Runtime::new()
        .map_err(|error| Failure::Broken(format!("This machine gives no threads to serve with: {error}.")))?;
    runtime.block_on(async {
        let listener = listen(port).await?;
        let address = listener.local_addr().map_err(|error| Failure::Broken(format!("No address to serve on: {error}.")))?;
        if port != 0 && address.port() != port {
            print::complain(&format!("Port {port} is taken by another program, so this machine gave another one."));
        }
        print::out(&format!(
            "\n{} is served at http://{address}/\nOnly this machine can reach it. Stop with Ctrl-C; nothing is lost.\n",
            workshop.name()
        ))?;
        asfound_web::serve(listener, Arc::new(workshop), asked_to_stop())
            .await
            .map_err(|error| Failure::Broken(format!("The pages cannot be served any more: {error}.")))
    })
}

/// The port asked for, else any that is free.
async fn listen(port: u16) -> Result<TcpListener, Failure> {
    match TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await {
        Ok(listener) => Ok(listener),
        Err(_) => TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).await.map_err(|error| {
            Failure::Broken(format!("No port of this machine can be listened on: {error}."))
        }),
    }
}

async fn asked_to_stop() {
    let interrupted = tokio::signal::ctrl_c();
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut ended) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = interrupted => {}
                _ = ended.recv() => {}
            }
            return;
        }
    }
    let _ = interrupted.await;
}
