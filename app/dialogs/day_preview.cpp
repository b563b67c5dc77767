// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/day_preview.h"

#include "app/dialogs/paper_preview.h"
#include "app/print/day_packet.h"

namespace keyround {

PaperPreview *openDayPreview(QWidget *owner, Session &session, const RoundId &id)
{
    const Round *round = session.round(id);
    if (round == nullptr) {
        Q_EMIT session.notifier().failed(
            QObject::tr("The round is no longer in this project. Choose another one."));
        return nullptr;
    }
    const std::vector<DayPart> parts = packetOf(session, id);
    PreviewJob job;
    job.title =
        QObject::tr("The day on paper: %1, %2").arg(round->date.toString(Qt::ISODate), round->crew);
    job.suggestedName = QObject::tr("day-%1.pdf").arg(round->date.toString(Qt::ISODate));
    for (const DayPart part : parts) {
        job.choices << wordsFor(part);
    }
    job.make = [&session, id, parts](const std::vector<int> &ticked) {
        std::vector<DayPart> wanted;
        for (const int place : ticked) {
            wanted.push_back(parts[static_cast<std::size_t>(place)]);
        }
        return dayPaper(session, id, wanted);
    };
    return PaperPreview::openBeside(owner, session, std::move(job));
}

} // namespace keyround
