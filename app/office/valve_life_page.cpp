// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/valve_life_page.h"

#include "app/charts/chart_panel.h"
#include "app/charts/figure_pictures.h"
#include "app/commands/photo_commands.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/paper_preview.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/office/visit_list.h"
#include "app/print/life_pages.h"
#include "app/shell/session.h"
#include "core/reports/valve_life.h"
#include "core/reports/valve_words.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QPixmap>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <utility>

namespace keyround {

ValveLifePage::ValveLifePage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_title(plainLabel({}, QStringLiteral("title"), this)),
      m_where(plainLabel({}, QStringLiteral("quiet"), this)),
      m_panel(new ChartPanel(QStringLiteral("life"), this)), m_visits(new VisitList(this))
{
    setFocusPolicy(Qt::StrongFocus);
    m_title->setObjectName(QStringLiteral("lifeTitle"));
    auto *back = new QPushButton(tr("Back to the answer"), this);
    back->setObjectName(QStringLiteral("lifeBack"));
    connect(back, &QPushButton::clicked, this, &ValveLifePage::backWanted);
    auto *repair = new QPushButton(tr("Repair request"), this);
    repair->setObjectName(QStringLiteral("lifeRepair"));
    connect(repair, &QPushButton::clicked, this,
            [this] { Q_EMIT repairWanted(m_valve, m_marked); });
    auto *head = new QHBoxLayout;
    head->addWidget(m_title, 1);
    head->addWidget(repair, 0, Qt::AlignTop);
    head->addWidget(back, 0, Qt::AlignTop);

    auto *upper = new QSplitter(Qt::Vertical, this);
    upper->addWidget(m_panel);
    upper->addWidget(m_visits);
    upper->setSizes({320, 260});
    upper->setChildrenCollapsible(false);
    rememberSplitter(upper, QStringLiteral("valve-life"));
    auto *both = new QSplitter(Qt::Horizontal, this);
    both->addWidget(buildFacts());
    both->addWidget(upper);
    both->setSizes({300, 760});
    both->setStretchFactor(1, 1);
    both->setChildrenCollapsible(false);
    rememberSplitter(both, QStringLiteral("valve-life-facts"));
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto *below = new QHBoxLayout;
    below->addWidget(m_where, 1);
    below->addWidget(buildFiles(), 0, Qt::AlignTop);
    column->addLayout(head);
    column->addLayout(below);
    column->addWidget(both, 1);
    connect(m_panel, &ChartPanel::itemClicked, this, [this](int item) {
        const ValveTurns turns =
            valveTurns(m_session.history(m_valve), m_valve, m_session.settings().tolerance);
        if (item < static_cast<int>(turns.counts.size())) {
            const VisitId visit = turns.counts[static_cast<size_t>(item)].visit;
            m_marked = visit == m_marked ? VisitId() : visit; // a second time takes it back
            refresh();
        }
    });
    connect(m_panel, &ChartPanel::allWanted, this, [this] {
        m_marked = {};
        refresh();
    });
}

/// What the page as a whole is taken away as; the chart has its own.
QWidget *ValveLifePage::buildFiles()
{
    auto *files = new QWidget(this);
    auto *row = new QHBoxLayout(files);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(plainCaption(tr("Whole page:"), QStringLiteral("quiet"), files));
    const auto add = [&](const QString &words, const char *name, const QString &tip, auto act) {
        auto *button = new QPushButton(words, files);
        button->setProperty("role", QStringLiteral("small"));
        button->setObjectName(QLatin1String(name));
        button->setToolTip(tip);
        button->setAccessibleName(tip);
        connect(button, &QPushButton::clicked, this, act);
        row->addWidget(button);
    };
    add(tr("Preview..."), "lifePreview", tr("See the page on paper, and print it"),
        &ValveLifePage::preview);
    add(tr("PDF"), "lifePagePdf", tr("Save the page as PDF"),
        [this] { save(tr("Save the page"), QStringLiteral("pdf"), writeLifePage); });
    add(tr("CSV"), "lifeVisitsCsv", tr("Save the visits as CSV"),
        [this] { save(tr("Save the visits"), QStringLiteral("csv"), writeLifeVisits); });
    add(tr("Copy"), "lifeCopyAll", tr("Copy the picture of the counts, and the visits"),
        &ValveLifePage::copy);
    return files;
}

void ValveLifePage::save(const QString &title, const QString &ending,
                         Status (*write)(Session &, const ValveId &, const QString &))
{
    const Valve *valve = m_session.valve(m_valve);
    if (valve == nullptr) {
        return;
    }
    const QString path =
        chooseFileToSave(this, title, tr("valve-%1.%2").arg(valve->number, ending),
                         QStringLiteral("%1 (*.%2)").arg(ending.toUpper(), ending));
    if (!path.isEmpty()) {
        showOutcome(this, write(m_session, m_valve, path), tr("Saved to %1").arg(path));
    }
}

void ValveLifePage::preview()
{
    const Valve *valve = m_session.valve(m_valve);
    if (valve == nullptr) {
        return;
    }
    PreviewJob job;
    job.title = tr("Valve %1 on paper").arg(valve->number);
    job.suggestedName = tr("valve-%1.pdf").arg(valve->number);
    job.make = [&session = m_session, id = m_valve](const std::vector<int> &) {
        return lifePaper(session, id);
    };
    PaperPreview::openBeside(this, m_session, std::move(job));
}

void ValveLifePage::copy()
{
    const Valve *valve = m_session.valve(m_valve);
    if (valve == nullptr) {
        return;
    }
    FilePicture picture = m_panel->chart()->filePicture();
    picture.figures = visitsTable(*valve, m_session.history(m_valve));
    copyPicture(picture);
    showOutcome(this, {}, tr("Copied the picture of the counts, and the visits."));
}

QWidget *ValveLifePage::buildFacts()
{
    auto *scroll = new QScrollArea(this);
    scroll->setObjectName(QStringLiteral("lifeFacts"));
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setMinimumWidth(230);
    auto *content = new QWidget;
    m_facts = new QVBoxLayout(content);
    m_facts->setContentsMargins(0, 0, 8, 0);
    scroll->setWidget(content);
    return scroll;
}

void ValveLifePage::showValve(const ValveId &valve, const VisitId &marked)
{
    m_valve = valve;
    m_marked = marked;
    refresh();
}

void ValveLifePage::refresh()
{
    if (m_valve.isNull()) {
        return;
    }
    const Valve *valve = m_session.valve(m_valve);
    if (valve == nullptr) {
        m_valve = {};
        Q_EMIT backWanted();
        return;
    }
    const UnitSystem units = m_session.units();
    m_title->setText(tr("Valve %1: %2").arg(valve->number, whatWords(*valve, units)));
    m_where->setText(whereWords(*valve, units));
    const ValveTurns turns =
        valveTurns(m_session.history(m_valve), m_valve, m_session.settings().tolerance);
    int chosen = -1;
    for (size_t i = 0; i < turns.counts.size(); ++i) {
        chosen =
            turns.counts[i].visit == m_marked && !m_marked.isNull() ? static_cast<int>(i) : chosen;
    }
    m_panel->show(valveTurnsPicture(turns, valve->number), chosen,
                  tr("Click a count to see its visit."));
    m_visits->showVisits(m_session, m_valve, m_marked);
    showFacts();
}

void ValveLifePage::addFact(const QString &heading, const QStringList &lines)
{
    QWidget *content = m_facts->parentWidget();
    m_facts->addWidget(plainLabel(heading, QStringLiteral("entry"), content));
    for (const QString &line : lines) {
        m_facts->addWidget(plainLabel(line, {}, content));
    }
    m_facts->addSpacing(6);
}

void ValveLifePage::showFacts()
{
    while (QLayoutItem *item = m_facts->takeAt(0)) {
        delete item->widget();
        delete item;
    }
    const Valve &valve = *m_session.valve(m_valve);
    const ValveHistory &history = m_session.history(m_valve);
    for (const LifeFact &fact :
         valveLifeFacts(valve, history, m_session.dueEntry(m_valve), m_session.repairs())) {
        addFact(fact.heading, fact.lines);
    }
    showPhotos();
    m_facts->addStretch(1);
}

void ValveLifePage::showPhotos()
{
    const std::vector<Photo> photos = photosOfValve(m_session, m_valve);
    if (photos.empty()) {
        return;
    }
    addFact(tr("Photos"), {});
    for (auto photo = photos.rbegin(); photo != photos.rend(); ++photo) {
        auto *picture = new QLabel(m_facts->parentWidget());
        QPixmap thumbnail;
        const QString words = QStringLiteral("%1, %2").arg(
            photo->fileName, photo->taken.localDate().toString(Qt::ISODate));
        if (thumbnail.loadFromData(photo->thumbnail)) {
            picture->setPixmap(thumbnail);
        }
        picture->setAccessibleName(words);
        m_facts->addWidget(picture);
        m_facts->addWidget(plainLabel(words, QStringLiteral("quiet"), m_facts->parentWidget()));
    }
}

void ValveLifePage::keyPressEvent(QKeyEvent *event)
{
    if (event->key() == Qt::Key_Escape) {
        Q_EMIT backWanted();
        return;
    }
    QWidget::keyPressEvent(event);
}

} // namespace keyround
