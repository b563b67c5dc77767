// SPDX-License-Identifier: GPL-3.0-or-later
// Mains, hydrants, services and sources.
#include "core/exchange/layer_reader.h"
#include "core/exchange/line_keys.h"

namespace keyround {

namespace {

/// Opens, reads, and adds the notes on the whole: the same for each of the three.
template <typename Row, typename Take>
Result<Imported<Row>> readAll(LayerKind kind, const ReadRequest &request, const Progress &progress,
                              Take take)
{
    auto reader = LayerReader::open(kind, request);
    if (!reader) {
        return tl::unexpected(reader.error());
    }
    Imported<Row> result;
    const Status read = reader->readRows(progress, result.rejected,
                                         [&](const SourceRow &row) { take(*reader, row, result); });
    if (!read) {
        return tl::unexpected(read.error());
    }
    result.warnings.insert(result.warnings.begin(), reader->notes().begin(), reader->notes().end());
    result.columns = reader->columns();
    return result;
}

/// Number and place, which a hydrant and a service have alike; false when the row was rejected.
template <typename Row>
bool takePoint(const LayerReader &reader, const SourceRow &row, FirstOfEach &seen,
               Imported<Row> &result, Row &taken)
{
    const auto number = ownNumber(reader, row, seen);
    if (!number) {
        result.rejected.push_back(number.error());
        return false;
    }
    const auto place = reader.place(row);
    if (!place) {
        result.rejected.push_back(place.error());
        return false;
    }
    taken.number = *number;
    taken.place = place->value_or(GeoPoint{});
    if constexpr (requires { taken.address; }) {
        taken.address = row.text(QStringLiteral("address"));
    }
    if (!place->has_value() && reader.hasPlaces()) {
        result.warnings.push_back(
            {row.number(), QString(), *number, QStringLiteral("the row has no position")});
    }
    return true;
}

} // namespace

Result<Imported<Main>> readMains(const ReadRequest &request, const Progress &progress)
{
    LineKeys keys;
    return readAll<Main>(
        LayerKind::Mains, request, progress,
        [&](const LayerReader &reader, const SourceRow &row, Imported<Main> &result) {
            Main main;
            main.size = parsedField(reader, row, QStringLiteral("size"), result.warnings,
                                    [&request](const QString &text) {
                                        return parseSize(text, request.bareSize);
                                    })
                            .value_or(NominalSize{});
            main.material = row.text(QStringLiteral("material"));
            main.installYear = parsedField(reader, row, QStringLiteral("install_year"),
                                           result.warnings, parseYear);
            main.zone = row.text(QStringLiteral("zone"));
            takeLines(reader, row, QStringLiteral("number"), keys, result,
                      [&](const QString &key, const GeoLine &line) {
                          main.number = key;
                          main.line = line;
                          result.rows.push_back(main);
                      });
        });
}

Result<Imported<Hydrant>> readHydrants(const ReadRequest &request, const Progress &progress)
{
    FirstOfEach seen;
    return readAll<Hydrant>(
        LayerKind::Hydrants, request, progress,
        [&seen](const LayerReader &reader, const SourceRow &row, Imported<Hydrant> &result) {
            Hydrant hydrant;
            if (takePoint(reader, row, seen, result, hydrant)) {
                result.rows.push_back(std::move(hydrant));
            }
        });
}

Result<Imported<Service>> readServices(const ReadRequest &request, const Progress &progress)
{
    FirstOfEach seen;
    return readAll<Service>(
        LayerKind::Services, request, progress,
        [&seen](const LayerReader &reader, const SourceRow &row, Imported<Service> &result) {
            Service service;
            if (!takePoint(reader, row, seen, result, service)) {
                return;
            }
            service.customer = row.text(QStringLiteral("customer"));
            service.phone = row.text(QStringLiteral("phone"));
            service.mainNumber = row.text(QStringLiteral("main"));
            // Any words but a plain no in this column say why the customer is critical.
            const QString critical = row.text(QStringLiteral("critical"));
            service.critical = !critical.isEmpty() && yesOrNo(critical).value_or(true);
            result.rows.push_back(std::move(service));
        });
}

Result<Imported<Source>> readSources(const ReadRequest &request, const Progress &progress)
{
    FirstOfEach seen;
    return readAll<Source>(
        LayerKind::Sources, request, progress,
        [&seen](const LayerReader &reader, const SourceRow &row, Imported<Source> &result) {
            Source source;
            if (!takePoint(reader, row, seen, result, source)) {
                return;
            }
            source.name = row.text(QStringLiteral("name"));
            source.kind =
                parsedField(reader, row, QStringLiteral("kind"), result.warnings, parseSourceKind)
                    .value_or(SourceKind::Plant);
            result.rows.push_back(std::move(source));
        });
}

Result<QStringList> columnsFor(LayerKind kind, const ReadRequest &request)
{
    return LayerReader::columnNames(kind, request);
}

} // namespace keyround
