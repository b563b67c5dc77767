// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/life_pages.h"

#include "app/charts/figure_pictures.h"
#include "app/commands/photo_commands.h"
#include "app/print/chart_on_paper.h"
#include "app/print/page_furniture.h"
#include "core/exchange/write_files.h"
#include "core/reports/valve_life.h"

namespace keyround {

namespace {

/// Of what the page has left; less where that keeps the visits on it.
constexpr double chartShare = 0.5;

tl::unexpected<Error> gone()
{
    return fail(ErrorCode::NotFound,
                QObject::tr("The valve is no longer in this project. Choose another one."));
}

QString photoWords(const std::vector<Photo> &photos)
{
    QStringList words;
    for (const Photo &photo : photos) {
        words << QObject::tr("%1 of %2")
                     .arg(photo.fileName, photo.taken.localDate().toString(Qt::ISODate));
    }
    return QObject::tr("Photos on record: %1").arg(words.join(QStringLiteral(", ")));
}

} // namespace

Result<std::vector<PaperPart>> lifePaper(Session &session, const ValveId &id)
{
    const Valve *valve = session.valve(id);
    if (valve == nullptr) {
        return gone();
    }
    const ValveHistory &history = session.history(id);
    SheetPart part;
    part.sheet = valveLifeSheet(
        *valve, history, valveLifeFacts(*valve, history, session.dueEntry(id), session.repairs()),
        session.today(), session.units());
    if (const std::vector<Photo> photos = photosOfValve(session, id); !photos.empty()) {
        part.sheet.notes << photoWords(photos);
    }
    const ChartPicture picture =
        valveTurnsPicture(valveTurns(history, id, session.settings().tolerance), valve->number);
    if (!picture.isEmpty()) {
        part.picture = chartOnPaper(picture);
        part.pictureShare = chartShare;
    }
    return std::vector<PaperPart>{paperOf(std::move(part))};
}

Status writeLifePage(Session &session, const ValveId &valve, const QString &path)
{
    const auto parts = lifePaper(session, valve);
    if (!parts) {
        return tl::unexpected(parts.error());
    }
    return writePaper(parts->front().name, *parts, furnitureOf(session), {}, path);
}

Status writeLifeVisits(Session &session, const ValveId &id, const QString &path)
{
    const Valve *valve = session.valve(id);
    if (valve == nullptr) {
        return gone();
    }
    const ReportTable table = visitsTable(*valve, session.history(id));
    return writeCsv(path, {table.columns, {table.rows.begin(), table.rows.end()}});
}

} // namespace keyround
