// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/import_dialog.h"

#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/column_match_table.h"
#include "app/dialogs/import_review.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/dialogs/work_bar.h"

#include <QFileInfo>
#include <QGridLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QSettings>
#include <QSplitter>

#include <array>

namespace keyround {

namespace {

constexpr std::array kinds{LayerKind::Valves,   LayerKind::Streets,  LayerKind::Mains,
                           LayerKind::Hydrants, LayerKind::Services, LayerKind::Sources,
                           LayerKind::Visits};

const auto geometryKey = QStringLiteral("importDialog");

QString labelOf(LayerKind kind)
{
    switch (kind) {
    case LayerKind::Valves:
        return QObject::tr("Valves");
    case LayerKind::Streets:
        return QObject::tr("Streets");
    case LayerKind::Mains:
        return QObject::tr("Mains");
    case LayerKind::Hydrants:
        return QObject::tr("Hydrants");
    case LayerKind::Services:
        return QObject::tr("Services");
    case LayerKind::Sources:
        return QObject::tr("Sources of water");
    case LayerKind::Visits:
        return QObject::tr("Past visits");
    }
    return {};
}

} // namespace

ImportDialog::ImportDialog(Session &session, QWidget *parent)
    : QDialog(parent), m_session(session), m_path(new QLineEdit(this)),
      m_kind(new CalmComboBox(this)), m_layer(new CalmComboBox(this)),
      m_columns(new ColumnMatchTable(this)), m_crs(plainCaption({}, {}, this)),
      m_epsg(new QLineEdit(this)), m_dates(new CalmComboBox(this)),
      m_message(plainLabel({}, {}, this)), m_review(new ImportReview(session, this)),
      m_work(new WorkBar(this)), m_look(new QPushButton(tr("Look at what would change"), this)),
      m_bringIn(new QPushButton(tr("Bring in"), this))
{
    setWindowTitle(tr("Bring in a file"));
    m_message->setObjectName(QStringLiteral("importMessage"));

    auto *split = new QSplitter(Qt::Vertical, this);
    split->addWidget(m_columns);
    split->addWidget(m_review);
    split->setSizes({260, 320});
    auto *column = new QVBoxLayout(this);
    column->addWidget(buildFileRow());
    column->addWidget(buildOptionsRow());
    column->addWidget(split, 1);
    column->addWidget(m_message);
    column->addWidget(m_work);
    column->addWidget(buildButtons());

    connect(m_layer, &QComboBox::currentIndexChanged, this, &ImportDialog::showLayer);
    connect(m_kind, &QComboBox::currentIndexChanged, this, &ImportDialog::showLayer);
    connect(m_columns, &ColumnMatchTable::matchChanged, this, &ImportDialog::invalidate);
    connect(m_epsg, &QLineEdit::textChanged, this, &ImportDialog::showCrs);
    connect(m_dates, &QComboBox::currentIndexChanged, this, &ImportDialog::invalidate);
    if (!restoreGeometry(QSettings().value(geometryKey).toByteArray())) {
        resize(1100, 720);
    }
    invalidate();
    say(tr("Choose a file: CSV, XLSX, ODS, GeoPackage, Shapefile, GeoJSON, FileGDB or, for "
           "streets, OpenStreetMap."),
        false);
}

QWidget *ImportDialog::buildFileRow()
{
    auto *row = new QWidget(this);
    auto *grid = new QGridLayout(row);
    grid->setContentsMargins(0, 0, 0, 0);
    m_path->setReadOnly(true);
    m_path->setPlaceholderText(tr("No file chosen"));
    m_path->setAccessibleName(tr("File"));
    auto *choose = new QPushButton(tr("Choose a file..."), this);
    choose->setObjectName(QStringLiteral("chooseFile"));
    connect(choose, &QPushButton::clicked, this, &ImportDialog::chooseFile);
    for (const LayerKind kind : kinds) {
        m_kind->addItem(labelOf(kind), QVariant::fromValue(int(kind)));
    }
    m_kind->setObjectName(QStringLiteral("importKind"));
    m_kind->setAccessibleName(tr("What the rows are"));
    m_layer->setAccessibleName(tr("Layer"));
    grid->addWidget(choose, 0, 0);
    grid->addWidget(m_path, 0, 1, 1, 3);
    grid->addWidget(plainCaption(tr("The rows are"), {}, this), 1, 0, Qt::AlignRight);
    grid->addWidget(m_kind, 1, 1);
    grid->addWidget(plainCaption(tr("Layer"), {}, this), 1, 2, Qt::AlignRight);
    grid->addWidget(m_layer, 1, 3);
    grid->setColumnStretch(1, 1);
    grid->setColumnStretch(3, 2);
    return row;
}

QWidget *ImportDialog::buildOptionsRow()
{
    auto *row = new QWidget(this);
    auto *line = new QHBoxLayout(row);
    line->setContentsMargins(0, 0, 0, 0);
    m_epsg->setPlaceholderText(tr("EPSG code"));
    m_epsg->setAccessibleName(tr("EPSG code of the coordinate system"));
    m_epsg->setObjectName(QStringLiteral("epsg"));
    m_epsg->setMaximumWidth(110);
    m_dates->addItem(tr("Dates: year-month-day only"));
    m_dates->addItem(tr("Dates: month/day/year"), int(DateOrder::MonthFirst));
    m_dates->addItem(tr("Dates: day/month/year"), int(DateOrder::DayFirst));
    m_dates->setAccessibleName(tr("Order of day and month"));
    m_dates->setObjectName(QStringLiteral("dateOrder"));
    line->addWidget(m_crs, 1);
    line->addWidget(m_epsg);
    line->addWidget(m_dates);
    return row;
}

QWidget *ImportDialog::buildButtons()
{
    auto *row = new QWidget(this);
    auto *line = new QHBoxLayout(row);
    line->setContentsMargins(0, 0, 0, 0);
    auto *close = new QPushButton(tr("Close"), this);
    m_look->setObjectName(QStringLiteral("look"));
    m_look->setDefault(true);
    m_bringIn->setObjectName(QStringLiteral("bringIn"));
    m_bringIn->setProperty("role", QStringLiteral("primary"));
    line->addStretch(1);
    line->addWidget(close);
    line->addWidget(m_look);
    line->addWidget(m_bringIn);
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    connect(m_look, &QPushButton::clicked, this, &ImportDialog::look);
    connect(m_bringIn, &QPushButton::clicked, this, &ImportDialog::bringIn);
    return row;
}

void ImportDialog::chooseFile()
{
    const QString path = chooseFileToOpen(this, tr("Choose a file"),
                                          tr("Tables and layers (*.csv *.xlsx *.ods *.gpkg *.shp "
                                             "*.geojson *.json *.gdb *.osm *.pbf);;"
                                             "All files (*)"));
    if (!path.isEmpty()) {
        take(path);
    }
}

void ImportDialog::take(const QString &path)
{
    m_path->setText(path);
    m_source = {};
    m_layer->clear();
    invalidate();
    auto source = inspectSource(path);
    if (!source) {
        say(source.error().message, true);
        return;
    }
    m_source = std::move(*source);
    const QSignalBlocker quiet(m_layer);
    for (const SourceLayer &each : m_source.layers) {
        m_layer->addItem(each.rows >= 0 ? tr("%1 (%2 rows)").arg(each.name).arg(each.rows)
                                        : each.name);
    }
    guessKind();
    showLayer();
    say(tr("Check the columns, then look at what would change."), false);
}

void ImportDialog::guessKind()
{
    const QString name = QFileInfo(m_source.path).baseName().toLower();
    for (const LayerKind kind : kinds) {
        if (name.contains(keyFor(kind).chopped(1))) {
            const QSignalBlocker quiet(m_kind);
            m_kind->setCurrentIndex(m_kind->findData(int(kind)));
        }
    }
}

LayerKind ImportDialog::kind() const
{
    return LayerKind(m_kind->currentData().toInt());
}

const SourceLayer *ImportDialog::layer() const
{
    const int index = m_layer->currentIndex();
    return index >= 0 && index < m_source.layers.size() ? &m_source.layers.at(index) : nullptr;
}

void ImportDialog::showLayer()
{
    if (const SourceLayer *chosen = layer()) {
        m_columns->show(kind(), *chosen, suggestedColumns(m_session, kind(), chosen->columns));
    }
    m_dates->setVisible(kind() == LayerKind::Visits);
    showCrs();
}

void ImportDialog::showCrs()
{
    invalidate();
    const SourceLayer *chosen = layer();
    const bool asks = chosen != nullptr && !chosen->hasCrs && kind() != LayerKind::Visits;
    m_epsg->setVisible(asks);
    if (chosen == nullptr || kind() == LayerKind::Visits) {
        m_crs->clear();
        return;
    }
    if (!asks) {
        m_crs->setText(
            tr("Coordinates: %1, in %2 (the file says so)").arg(chosen->crsName, chosen->crsUnit));
        return;
    }
    const auto described = describeCrs(m_epsg->text().trimmed().toInt());
    restyle(m_epsg, "refused", !m_epsg->text().isEmpty() && !described);
    m_crs->setText(described
                       ? tr("Coordinates: %1, in %2").arg(described->name, described->unit)
                       : tr("The file does not name its coordinate system. Type its EPSG code "
                            "(columns of latitude and longitude need none)."));
}

void ImportDialog::invalidate()
{
    m_plan.reset();
    m_review->clear();
    m_bringIn->setEnabled(false);
    m_look->setEnabled(layer() != nullptr);
}

std::optional<ReadRequest> ImportDialog::request()
{
    const QStringList missing = m_columns->missing();
    if (layer() == nullptr || !missing.isEmpty()) {
        say(tr("Say which column is: %1.").arg(missing.join(QStringLiteral(", "))), true);
        return std::nullopt;
    }
    ReadRequest asked;
    asked.path = m_source.path;
    asked.layer = layer()->name;
    asked.columns = m_columns->match();
    if (m_epsg->isVisible() && !m_epsg->text().trimmed().isEmpty()) {
        asked.epsg = m_epsg->text().trimmed().toInt();
    }
    if (const QVariant order = m_dates->currentData(); order.isValid()) {
        asked.dateOrder = DateOrder(order.toInt());
    }
    return asked;
}

void ImportDialog::look()
{
    const std::optional<ReadRequest> asked = request();
    if (!asked) {
        return;
    }
    auto plan =
        m_work->run({m_look, m_bringIn, m_columns, m_kind, m_layer}, [&](const Progress &progress) {
            return prepareImport(m_session, kind(), *asked, progress);
        });
    if (!plan) {
        invalidate();
        say(plan.error().message, true);
        return;
    }
    m_review->show(*plan);
    m_bringIn->setEnabled(plan->rowCount() > 0);
    m_plan = std::move(*plan);
    say(tr("Look at the map and the list. Nothing has been written yet."), false);
}

void ImportDialog::bringIn()
{
    if (!m_plan) {
        return;
    }
    const ImportPlan plan = *m_plan;
    const Status done =
        m_work->run({m_look, m_bringIn, m_columns, m_kind, m_layer}, [&](const Progress &progress) {
            return applyImport(m_session, plan, progress);
        });
    invalidate();
    say(done ? tr("Brought in: %1. Choose the next file, or close.").arg(summaryOf(plan))
             : done.error().message,
        !done);
}

void ImportDialog::say(const QString &text, bool failed)
{
    m_message->setText(text);
    restyle(m_message, "role", failed ? QStringLiteral("danger") : QStringLiteral("quiet"));
}

void ImportDialog::done(int result)
{
    QSettings().setValue(geometryKey, saveGeometry());
    QDialog::done(result);
}

} // namespace keyround
